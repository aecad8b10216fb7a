//! From bytes to text with plain line ends.

use super::error::ImportError;
use super::{BYTES_MAX, LINE_MAX};
use chardetng::{EncodingDetector, Iso2022JpDetection, Utf8Detection};
use encoding_rs::{Encoding, UTF_8};

/// The file as text.
#[derive(Debug, Clone)]
pub(crate) struct Text {
    /// With `\n` as the only line end, and no byte-order mark.
    pub text: String,
    /// The encoding's WHATWG name.
    pub encoding: &'static str,
}

/// Decodes the file: by its byte-order mark, else as asked, else UTF-8 if it reads, else by
/// statistics of its bytes.
pub(crate) fn decode(bytes: &[u8], asked: Option<&str>) -> Result<Text, ImportError> {
    if bytes.len() > BYTES_MAX {
        return Err(ImportError::TooLarge {
            bytes: bytes.len(),
            most: BYTES_MAX,
        });
    }
    if is_workbook(bytes) {
        return Err(ImportError::Workbook);
    }
    let asked = asked.map(named).transpose()?;
    let (encoding, mark) = match Encoding::for_bom(bytes) {
        Some(found) => found,
        None => (asked.unwrap_or_else(|| guess(bytes)), 0),
    };
    let body = bytes.get(mark..).unwrap_or_default();
    let (text, damaged) = encoding.decode_without_bom_handling(body);
    if damaged {
        let line = line_of(&text, '\u{fffd}');
        return Err(ImportError::Encoding {
            encoding: encoding.name().to_owned(),
            line,
        });
    }
    if text.contains('\0') {
        return Err(ImportError::NotText {
            line: line_of(&text, '\0'),
        });
    }
    let text = plain_lines(text.into_owned());
    short_lines(&text)?;
    Ok(Text {
        text,
        encoding: encoding.name(),
    })
}

/// The beginnings of zipped and of older binary workbooks (PKZIP APPNOTE 4.3.7; MS-CFB 2.2).
fn is_workbook(bytes: &[u8]) -> bool {
    bytes.starts_with(b"PK\x03\x04")
        || bytes.starts_with(&[0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1])
}

fn named(label: &str) -> Result<&'static Encoding, ImportError> {
    Encoding::for_label_no_replacement(label.as_bytes()).ok_or_else(|| {
        ImportError::UnknownEncoding {
            read: label.chars().take(60).collect(),
        }
    })
}

fn guess(bytes: &[u8]) -> &'static Encoding {
    if std::str::from_utf8(bytes).is_ok() {
        return UTF_8;
    }
    let mut detector = EncodingDetector::new(Iso2022JpDetection::Deny);
    detector.feed(bytes, true);
    // A list of boars has few accents to judge by; the screens' second language breaks the tie.
    detector.guess(Some(b"es"), Utf8Detection::Deny)
}

fn line_of(text: &str, needle: char) -> u64 {
    let before = text.split(needle).next().unwrap_or_default();
    1 + plain_lines(before.to_owned()).matches('\n').count() as u64
}

/// Old and foreign line ends become `\n`, also inside cells, where white space is folded anyway.
fn plain_lines(text: String) -> String {
    if text.contains('\r') {
        text.replace("\r\n", "\n").replace('\r', "\n")
    } else {
        text
    }
}

fn short_lines(text: &str) -> Result<(), ImportError> {
    match text
        .split('\n')
        .zip(1..)
        .find(|(line, _)| line.len() > LINE_MAX)
    {
        Some((long, line)) => Err(ImportError::LineTooLong {
            line,
            bytes: long.len(),
            most: LINE_MAX,
        }),
        None => Ok(()),
    }
}
