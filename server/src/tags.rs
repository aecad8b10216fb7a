//! Pen tags: the printed address of a pen as a QR symbol, twice, with its name and short code.
//!
//! ISO/IEC 18004 at level H in alphanumeric mode, quiet zone of 4 modules. Level H and two
//! symbols a tag because dirt on a finder pattern kills a symbol whatever its level.

use pentally_domain::code::Code;
use qrcode::bits::Bits;
use qrcode::types::{QrError, Version};
use qrcode::{Color, EcLevel, QrCode};
use std::fmt::Write;

mod sheet;

pub use sheet::{Escaped, Paper, PenTag, Sheet, SheetLabels, sheet};

/// Modules of white around a symbol (ISO/IEC 18004).
pub const QUIET_ZONE: usize = 4;
/// A symbol without its quiet zone is at least this wide, so that it reads at half a metre.
pub const SYMBOL_MM: usize = 56;
/// The largest symbol printed: above this its modules get too small for [`SYMBOL_MM`].
const LARGEST: i16 = 6;
/// Alphanumeric characters that a symbol of [`LARGEST`] holds at level H (ISO/IEC 18004, table 7).
const MOST_CHARACTERS: usize = 84;
/// `/T/` and six digits.
const PATH_CHARACTERS: usize = 9;

/// The scheme, host and port that tags lead to, upper-case: `HTTPS://BARN.EXAMPLE:8420`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Origin(String);

/// Why a tag cannot be printed.
#[derive(Debug, thiserror::Error)]
pub enum TagError {
    /// Not a scheme, a host and perhaps a port.
    #[error(
        "'{read}' is not an origin: one such as https://barn.example:8420 was expected, with no path"
    )]
    NotAnOrigin {
        /// What was read.
        read: String,
    },
    /// A sign that has no place in the short form of the symbol.
    #[error(
        "the origin '{read}' has the sign '{sign}': on a tag a host is made of letters a to z, digits, dots and hyphens"
    )]
    Sign {
        /// What was read.
        read: String,
        /// The first sign that is not allowed.
        sign: char,
    },
    /// Longer than a symbol can hold at a size that still reads.
    #[error("the origin '{read}' has {} characters: at most {most} fit on a tag", .read.len())]
    TooLong {
        /// What was read.
        read: String,
        /// The most that fit.
        most: usize,
    },
    /// The encoder refused.
    #[error("the symbol of '{url}' could not be made")]
    Symbol {
        /// The address to be written.
        url: String,
        /// What the encoder says.
        source: QrError,
    },
}

impl Origin {
    /// Reads `http(s)://host[:port]`, in any case, with or without a closing slash.
    pub fn parse(text: &str) -> Result<Self, TagError> {
        let read = text.trim();
        let not_an_origin = || TagError::NotAnOrigin {
            read: read.to_owned(),
        };
        let origin = read.strip_suffix('/').unwrap_or(read).to_ascii_uppercase();
        let (scheme, rest) = origin.split_once("://").ok_or_else(not_an_origin)?;
        let (host, port) = rest
            .rsplit_once(':')
            .map_or((rest, None), |(h, p)| (h, Some(p)));
        let is_web = matches!(scheme, "HTTP" | "HTTPS");
        if !is_web || host.is_empty() || rest.contains(['/', '?', '#', '@']) {
            return Err(not_an_origin());
        }
        if let Some(sign) = rest.chars().find(|c| !is_printable(*c)) {
            return Err(TagError::Sign {
                read: read.to_owned(),
                sign,
            });
        }
        if host.contains(':') || port.is_some_and(|p| !is_port(p)) {
            return Err(not_an_origin());
        }
        let most = MOST_CHARACTERS - PATH_CHARACTERS;
        if origin.len() > most {
            return Err(TagError::TooLong {
                read: read.to_owned(),
                most,
            });
        }
        Ok(Self(origin))
    }

    /// The upper-case form.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// The address of one tag, upper-case.
    pub fn url(&self, code: Code) -> String {
        format!("{}{}", self.0, code.path())
    }
}

/// One symbol as an SVG picture in true millimetres, black on white.
pub fn svg(origin: &Origin, code: Code) -> Result<String, TagError> {
    let url = origin.url(code);
    let symbol = symbol(&url).map_err(|source| TagError::Symbol {
        url: url.clone(),
        source,
    })?;
    let side = symbol.width() + 2 * QUIET_ZONE;
    let whole = quarters(side * module_quarter_mm(symbol.width()));
    Ok(format!(
        concat!(
            r#"<svg xmlns="http://www.w3.org/2000/svg" width="{whole}mm" height="{whole}mm" "#,
            r#"viewBox="0 0 {side} {side}" shape-rendering="crispEdges"><title>{url}</title>"#,
            r##"<path fill="#fff" d="M0 0h{side}v{side}h-{side}z"/><path fill="#000" d="{runs}"/></svg>"##,
            "\n"
        ),
        whole = whole,
        side = side,
        url = url,
        runs = runs(&symbol),
    ))
}

/// Any address as a symbol for a screen, black on white, as an SVG that fits its place.
pub fn qr(address: &str) -> Result<String, TagError> {
    let symbol = QrCode::with_error_correction_level(address, EcLevel::M).map_err(|source| {
        TagError::Symbol {
            url: address.to_owned(),
            source,
        }
    })?;
    let side = symbol.width() + 2 * QUIET_ZONE;
    Ok(format!(
        concat!(
            r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {side} {side}" shape-rendering="crispEdges">"#,
            r##"<path fill="#fff" d="M0 0h{side}v{side}h-{side}z"/><path fill="#000" d="{runs}"/></svg>"##
        ),
        side = side,
        runs = runs(&symbol),
    ))
}

/// The smallest version up to [`LARGEST`] that holds the text at level H, all of it in
/// alphanumeric mode.
fn symbol(text: &str) -> Result<QrCode, QrError> {
    for version in 1..=LARGEST {
        let mut bits = Bits::new(Version::Normal(version));
        bits.push_alphanumeric_data(text.as_bytes())?;
        match bits.push_terminator(EcLevel::H) {
            Ok(()) => return QrCode::with_bits(bits, EcLevel::H),
            Err(QrError::DataTooLong) => {}
            Err(other) => return Err(other),
        }
    }
    Err(QrError::DataTooLong)
}

/// Quarter millimetres a module, the fewest that make the symbol [`SYMBOL_MM`] wide.
const fn module_quarter_mm(width: usize) -> usize {
    (4 * SYMBOL_MM).div_ceil(width)
}

/// Quarters written as a decimal number.
fn quarters(n: usize) -> String {
    format!("{}{}", n / 4, ["", ".25", ".5", ".75"][n % 4])
}

/// The dark modules as a path: one rectangle for each run in a row.
fn runs(symbol: &QrCode) -> String {
    let mut path = String::new();
    for (y, row) in symbol.to_colors().chunks(symbol.width()).enumerate() {
        let mut x = QUIET_ZONE;
        for run in row.chunk_by(|a, b| a == b) {
            if run[0] == Color::Dark {
                // Writing to a String cannot fail.
                let _ = write!(path, "M{x} {}h{n}v1h-{n}z", y + QUIET_ZONE, n = run.len());
            }
            x += run.len();
        }
    }
    path
}

/// Whether a sign of a host and port is in the alphanumeric set of ISO/IEC 18004 too.
const fn is_printable(sign: char) -> bool {
    matches!(sign, 'A'..='Z' | '0'..='9' | '.' | '-' | ':')
}

fn is_port(text: &str) -> bool {
    text.chars().all(|c| c.is_ascii_digit()) && text.parse::<u16>().is_ok_and(|port| port > 0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn code() -> Code {
        Code::from_number(12_345).unwrap()
    }

    /// Bits of an alphanumeric segment: ISO/IEC 18004 clause 7.4.4 (mode 0010, a count of 9 bits
    /// in versions 1 to 9, eleven bits a pair, six for an odd last one).
    #[test]
    fn the_whole_address_is_one_alphanumeric_segment() {
        let url = Origin::parse("https://barn.example:8420")
            .unwrap()
            .url(code());
        assert_eq!(
            (url.as_str(), url.len()),
            ("HTTPS://BARN.EXAMPLE:8420/T/123450", 34)
        );
        let mut bits = Bits::new(Version::Normal(3));
        bits.push_alphanumeric_data(url.as_bytes()).unwrap();
        assert_eq!(bits.len(), 4 + 9 + 11 * 17);
        let bytes = bits.into_bytes();
        assert_eq!(bytes[0] >> 4, 0b0010);
        assert_eq!(
            usize::from(bytes[0] & 15) << 5 | usize::from(bytes[1] >> 3),
            34
        );
    }

    /// Characters at level H: 20 in version 2, 35 in 3, 50 in 4, 64 in 5, 84 in 6
    /// (ISO/IEC 18004, table 7).
    #[test]
    fn the_smallest_version_is_taken() {
        for (characters, version) in [
            (20, 2),
            (21, 3),
            (35, 3),
            (36, 4),
            (50, 4),
            (51, 5),
            (64, 5),
            (65, 6),
            (84, 6),
        ] {
            let host = "A".repeat(characters - PATH_CHARACTERS - "HTTP://".len());
            let origin = Origin::parse(&format!("http://{host}")).unwrap();
            let symbol = symbol(&origin.url(code())).unwrap();
            assert_eq!(
                symbol.version(),
                Version::Normal(version),
                "{characters} characters"
            );
            assert_eq!(symbol.error_correction_level(), EcLevel::H);
        }
        let host = "A".repeat(76 - "HTTP://".len());
        assert!(matches!(
            Origin::parse(&format!("http://{host}")),
            Err(TagError::TooLong { most: 75, .. })
        ));
    }

    #[test]
    fn each_size_is_wide_enough_and_its_modules_not_too_fine() {
        for version in 2..=usize::try_from(LARGEST).unwrap() {
            let width = 17 + 4 * version;
            let module = module_quarter_mm(width);
            assert!(
                width * module >= 4 * 50,
                "version {version}: 50 mm at least"
            );
            assert!(module >= 6, "version {version}: 1.5 mm a module at least");
        }
    }

    #[test]
    fn what_is_not_an_origin_is_refused() {
        for text in [
            "",
            "barn.example",
            "ftp://barn.example",
            "https://",
            "https://a/b",
            "https://a?b",
            "https://u@a",
            "https://a:0",
            "https://a:65536",
            "https://a:",
            "https://a:1:2",
            "https://a:x1",
        ] {
            assert!(
                matches!(Origin::parse(text), Err(TagError::NotAnOrigin { .. })),
                "{text}"
            );
        }
        for (text, wrong) in [
            ("https://my_barn", '_'),
            ("http://[::1]:8420", '['),
            ("http://cría.example", 'í'),
        ] {
            assert!(
                matches!(Origin::parse(text), Err(TagError::Sign { sign, .. }) if sign == wrong),
                "{text}"
            );
        }
        assert_eq!(
            Origin::parse(" http://Localhost:8420/ ").unwrap().as_str(),
            "HTTP://LOCALHOST:8420"
        );
    }
}
