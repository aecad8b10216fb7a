//! A boar's sessions as a small picture: one stroke each, as high as he came.

use leptos::prelude::*;

/// How many strokes there is room for; the latest stand.
const SHOWN: usize = 20;
/// Between two strokes, in the picture's own measure; a stroke takes five of it.
const STEP: usize = 8;
/// How much higher a stroke is for each point.
const POINT: u16 = 8;
/// The highest stroke of all, and the foot that a score of 0 has.
const HEIGHT: u16 = 44;

/// The scores 0 to 5, oldest first; none where nobody said. The words say the same to those
/// who do not see it.
#[component]
pub fn Scores(scores: Vec<Option<u8>>, #[prop(into)] says: String) -> impl IntoView {
    let last = scores.len().saturating_sub(SHOWN);
    let strokes: Vec<_> = scores[last..]
        .iter()
        .enumerate()
        .map(|(at, score)| stroke(at * STEP, *score))
        .collect();
    let width = (strokes.len() * STEP).max(STEP);
    view! {
        <svg class="scores" role="img" aria-label=says viewBox=format!("0 0 {width} {HEIGHT}")
            style=format!("width:{width}px")>
            {strokes.into_iter().map(|d| view! { <path d=d/> }).collect_view()}
        </svg>
    }
}

/// A filled stroke from the ground up; a gap with a point where nobody said how far he came.
fn stroke(x: usize, score: Option<u8>) -> String {
    match score {
        Some(score) => {
            let top = HEIGHT.saturating_sub(u16::from(score) * POINT + 4);
            format!("M{x} {HEIGHT}V{top}h5V{HEIGHT}z")
        }
        None => format!("M{} 20h3v3h-3z", x + 1),
    }
}

#[cfg(test)]
mod tests {
    use super::stroke;

    #[test]
    fn a_score_of_five_reaches_the_top_and_none_is_no_stroke() {
        assert_eq!(stroke(8, Some(5)), "M8 44V0h5V44z");
        assert_eq!(stroke(0, Some(0)), "M0 44V40h5V44z");
        assert_eq!(stroke(0, None), "M1 20h3v3h-3z");
    }
}
