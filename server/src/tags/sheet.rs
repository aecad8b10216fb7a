//! The printed page: tags at true size on A4 or Letter, with a line to measure.

use super::{Origin, TagError, svg};
use pentally_domain::code::Code;
use std::fmt::{self, Display, Write};

/// The paper it is printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paper {
    /// 210 × 297 mm.
    #[default]
    A4,
    /// 215.9 × 279.4 mm.
    Letter,
}

/// One pen to print a tag for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PenTag {
    /// The pen's name, as large as fits.
    pub pen: String,
    /// Its code.
    pub code: Code,
}

/// The words on a sheet, from the message catalogue, as plain text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetLabels {
    /// The language of the words, such as `en`.
    pub lang: String,
    /// The page's title.
    pub title: String,
    /// Before a pen's name: "Pen".
    pub pen: String,
    /// The mark on each tag while the origin is not chosen: "TRIAL".
    pub trial: String,
    /// What the mark means, on screen only.
    pub trial_why: String,
    /// How to print, on screen only: at 100 %, not fitted to the page.
    pub how: String,
    /// Beside the line of 100 mm.
    pub ruler: String,
}

/// All that a sheet is made of.
#[derive(Debug, Clone, Copy)]
pub struct Sheet<'a> {
    /// Where the tags lead.
    pub origin: &'a Origin,
    /// Whether the farm has chosen that origin for good; until then tags say so.
    pub is_chosen: bool,
    /// The paper.
    pub paper: Paper,
    /// The pens, in the order printed.
    pub tags: &'a [PenTag],
    /// The words.
    pub labels: &'a SheetLabels,
}

/// Tags on a page: two fit on both papers with the ruler below them.
const TAGS_A_PAGE: usize = 2;
/// A tag's inner width, on which its name is fitted.
const NAME_WIDTH_MM: f64 = 176.0;

const STYLE: &str = "
* { box-sizing: border-box; margin: 0 }
body { font-family: system-ui, sans-serif; color: #000; background: #fff; width: 190mm; margin: 0 auto }
.page { break-after: page; height: 256mm }
.page:last-child { break-after: auto }
.tag { height: 120mm; padding: 2mm 6mm; border: .3mm dashed #000; display: grid;
  grid-template-rows: 28mm 79mm 1fr; break-inside: avoid }
.tag + .tag { border-top: 0 }
.head, .foot { display: flex; justify-content: space-between; align-items: center; gap: 4mm }
.head { overflow-wrap: anywhere; line-height: 1 }
.name { font-weight: 700 }
.pen { font-size: 5mm; font-weight: 400; display: block }
.trial { border: 1mm solid #000; padding: 1mm 3mm; font-size: 8mm; font-weight: 700; line-height: 1; white-space: nowrap; flex: none }
.codes { display: flex; justify-content: space-between; align-items: center }
.codes svg { display: block }
.foot { font-size: 8mm; line-height: 1; font-weight: 700; font-variant-numeric: tabular-nums; white-space: nowrap }
.ruler { margin: 3mm 6mm 0; font-size: 4mm; line-height: 1 }
.ruler svg { display: block; margin-bottom: 1mm }
.screen { padding: 4mm 0; font-size: 5mm }
@media print { .screen { display: none } }
";

/// 100 mm with a tick each 10 mm.
const RULER: &str = concat!(
    r#"<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="4mm" viewBox="0 0 100 4">"#,
    r##"<path fill="none" stroke="#000" stroke-width=".3" d="M0 2h100M.15 0v4M10 1v2M20 1v2M30 1v2M40 1v2"##,
    r#"M50 1v2M60 1v2M70 1v2M80 1v2M90 1v2M99.85 0v4"/></svg>"#
);

/// A page to print, whole and without script: each pen's tag with its two symbols.
pub fn sheet(sheet: &Sheet<'_>) -> Result<String, TagError> {
    let labels = sheet.labels;
    let mut pages = String::new();
    for page in sheet.tags.chunks(TAGS_A_PAGE) {
        let tags = page
            .iter()
            .map(|tag| tag_html(sheet, tag))
            .collect::<Result<String, _>>()?;
        let ruler = Escaped(&labels.ruler);
        // Writing to a String cannot fail.
        let _ = write!(
            pages,
            "<section class=\"page\">\n{tags}<div class=\"ruler\">{RULER}{ruler}</div>\n</section>\n"
        );
    }
    let why = if sheet.is_chosen {
        ""
    } else {
        &labels.trial_why
    };
    Ok(format!(
        "<!DOCTYPE html>\n<html lang=\"{lang}\">\n<head>\n<meta charset=\"utf-8\">\n<title>{title}</title>\n\
         <style>\n@page {{ size: {paper}; margin: 10mm }}{STYLE}</style>\n</head>\n<body>\n\
         <div class=\"screen\"><h1>{title}</h1><p>{how}</p><p>{why}</p></div>\n{pages}</body>\n</html>\n",
        lang = Escaped(&labels.lang),
        title = Escaped(&labels.title),
        paper = sheet.paper.css(),
        how = Escaped(&labels.how),
        why = Escaped(why),
    ))
}

impl Paper {
    const fn css(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::Letter => "letter",
        }
    }
}

fn tag_html(sheet: &Sheet<'_>, tag: &PenTag) -> Result<String, TagError> {
    let symbol = svg(sheet.origin, tag.code)?;
    let trial = if sheet.is_chosen {
        String::new()
    } else {
        format!(
            "<div class=\"trial\">{}</div>",
            Escaped(&sheet.labels.trial)
        )
    };
    Ok(format!(
        "<article class=\"tag\">\n<div class=\"head\"><div class=\"name\" style=\"font-size:{size:.1}mm\">\
         <span class=\"pen\">{word}</span>{pen}</div>{trial}</div>\n\
         <div class=\"codes\">{symbol}{symbol}</div>\n\
         <div class=\"foot\"><span>{code}</span><span>{code}</span></div>\n</article>\n",
        size = name_mm(&tag.pen, !sheet.is_chosen),
        word = Escaped(&sheet.labels.pen),
        pen = Escaped(&tag.pen),
        code = tag.code,
    ))
}

/// The type size at which a name of bold letters, 0.7 em each, fills one line: 20 mm at most,
/// and not under 9, where a long name takes two lines.
fn name_mm(pen: &str, is_trial: bool) -> f64 {
    let letters = pen.chars().count().max(1) as f64;
    let width_mm = if is_trial {
        NAME_WIDTH_MM - 50.0
    } else {
        NAME_WIDTH_MM
    };
    (width_mm / (0.7 * letters)).clamp(9.0, 20.0)
}

/// Text made safe between tags and in quoted attributes.
#[derive(Debug, Clone, Copy)]
pub struct Escaped<'a>(pub &'a str);

impl Display for Escaped<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for sign in self.0.chars() {
            match sign {
                '&' => f.write_str("&amp;")?,
                '<' => f.write_str("&lt;")?,
                '>' => f.write_str("&gt;")?,
                '"' => f.write_str("&quot;")?,
                '\'' => f.write_str("&#39;")?,
                other => f.write_char(other)?,
            }
        }
        Ok(())
    }
}
