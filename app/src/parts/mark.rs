//! The pictograms of `style/drawings.svg`.

use leptos::prelude::*;

macro_rules! drawings {
    ($($(#[$doc:meta])* $name:ident $id:literal,)*) => {
        /// A pictogram of ours; see `style/drawings.svg`.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Drawing {
            $($(#[$doc])* $name,)*
        }

        impl Drawing {
            /// All of them.
            pub const ALL: &[Self] = &[$(Self::$name,)*];

            /// Its id in the file.
            pub const fn id(self) -> &'static str {
                match self {
                    $(Self::$name => $id,)*
                }
            }
        }
    };
}

drawings! {
    /// Ready.
    Disc "disc",
    /// Rest.
    HalfDisc "half-disc",
    /// Stop.
    Bar "bar",
    /// Unknown.
    Ring "ring",
    /// Unsent.
    DotTail "dot-tail",
    /// A boar from the side.
    Boar "boar",
    /// A sow from the side.
    Sow "sow",
    /// The collection cup.
    Cup "cup",
    /// The filter over the cup.
    Filter "filter",
    /// A glove.
    Glove "glove",
    /// A glove drawn over another.
    TwoGloves "two-gloves",
    /// A kitchen scale.
    Scale "scale",
    /// A thermometer.
    Thermometer "thermometer",
    /// A dose.
    Dose "dose",
    /// The board a handler carries.
    Board "board",
    /// A phone.
    Phone "phone",
    /// A pen tag with its two codes.
    Tag "tag",
    /// The dummy.
    Dummy "dummy",
    /// A pen's gate.
    PenGate "pen-gate",
    /// The grid of a counting chamber.
    ChamberGrid "chamber-grid",
    /// Handler and helper.
    TwoPeople "two-people",
    /// The way out.
    Exit "exit",
    /// The office.
    Office "office",
    /// The cold store.
    ColdStore "cold-store",
    /// Semen, a drop.
    Drop "drop",
    /// The sperm-rich fraction: a drop with many.
    DropRich "drop-rich",
    /// The watery fraction: a drop with water in it.
    DropPoor "drop-poor",
    /// Gel.
    Gel "gel",
    /// The collecting area from above: dummy, boar, person, and the way out behind the person.
    WhereToStand "where-to-stand",
    /// The grip round the tip.
    Grip "grip",
    /// A person steps out between the posts.
    WayOut "way-out",
    /// Hot weather.
    Heat "heat",
    /// A danger.
    Warning "warning",
    /// Take back.
    Undo "undo",
    /// Erase one digit.
    Erase "erase",
    /// Scan a tag.
    Scan "scan",
    /// Chosen, done.
    Tick "tick",
}

/// Where the drawings are served.
#[derive(Clone, Debug)]
pub struct Sprite(String);

/// Says where the drawings are served, for a server that knows its bundle; a page
/// in the browser finds the address on its root element.
pub fn provide_sprite(address: impl Into<String>) {
    provide_context(Sprite(address.into()));
}

/// A drawing, for the eye only: the word stands beside it.
#[component]
pub fn Mark(#[prop(into)] drawing: Signal<Drawing>) -> impl IntoView {
    let sprite = use_context::<Sprite>().map_or_else(from_page, |sprite| sprite.0);
    let href = move || format!("{sprite}#{}", drawing.get().id());
    view! {
        <svg class="mark" aria-hidden="true" focusable="false">
            <use href=href />
        </svg>
    }
}

#[cfg(target_arch = "wasm32")]
fn from_page() -> String {
    let root = document().document_element();
    root.and_then(|root| root.get_attribute("data-drawings"))
        .unwrap_or_default()
}

#[cfg(not(target_arch = "wasm32"))]
fn from_page() -> String {
    String::new()
}

#[cfg(test)]
mod tests {
    use super::Drawing;
    use std::collections::BTreeSet;

    const FILE: &str = include_str!("../../../style/drawings.svg");

    #[test]
    fn each_drawing_is_in_the_file_and_each_of_the_file_has_a_name() {
        let symbols = FILE.split("<symbol id=\"").skip(1);
        let drawn: BTreeSet<_> = symbols.filter_map(|rest| rest.split('"').next()).collect();
        let named: BTreeSet<_> = Drawing::ALL.iter().map(|drawing| drawing.id()).collect();
        assert_eq!(drawn, named);
    }

    #[test]
    fn all_share_one_stroke_but_the_marks_of_state() {
        for symbol in FILE.split("<symbol ").skip(1).skip(5) {
            for width in symbol.split("stroke-width=\"").skip(1) {
                let tick = symbol.starts_with("id=\"tick\"");
                assert!(tick || width.starts_with("2.5\""), "{symbol}");
            }
        }
    }
}
