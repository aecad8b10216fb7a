//! The short code of a pen tag or a batch: five digits and one that checks them.
//!
//! The check digit is that of ISO/IEC 7064, MOD 11,10: digits only, so that a code can be
//! typed with gloves on a keypad of ten keys and read aloud in any language. It catches
//! every single wrong digit and all but a few swaps of neighbours.

use serde::{Deserialize, Serialize};
use std::fmt;

/// A checked code, such as `123 450`: a number below 100 000 and its check digit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(into = "String", try_from = "String")]
pub struct Code(u32);

/// What a scanned symbol leads to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Symbol {
    /// A pen, by its tag: `/T/123450`.
    Pen(Code),
    /// A semen batch, by its label: `/B/123450`.
    Batch(Code),
}

/// Why a text is not a code.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum CodeError {
    /// Too few or too many digits.
    #[error("code '{read}' has {} digits: six were expected, such as 123 450", digits_in(.read))]
    WrongLength {
        /// What was read.
        read: String,
    },
    /// Something that is neither a digit nor a space or hyphen.
    #[error(
        "code '{read}' has a sign that is not a digit: six digits were expected, such as 123 450"
    )]
    NotDigits {
        /// What was read.
        read: String,
    },
    /// Six digits, the last of which does not fit the others.
    #[error("code '{read}' was misread or mistyped: its last digit does not fit the first five")]
    Checksum {
        /// What was read.
        read: String,
    },
    /// An address, but not of a tag.
    #[error(
        "'{read}' is not the address of a tag: one that ends in /T/ and six digits was expected"
    )]
    NotATag {
        /// What was read.
        read: String,
    },
}

impl Code {
    /// How many codes there are: numbers run from 0 to one below this.
    pub const COUNT: u32 = 100_000;

    /// The code of a number below [`Code::COUNT`]; `None` for a larger one.
    pub const fn from_number(number: u32) -> Option<Self> {
        if number < Self::COUNT {
            Some(Self(number))
        } else {
            None
        }
    }

    /// Reads a code as typed (`123450`, `123 450`, `123-450`) or as scanned: an http or https
    /// address of any origin whose path is `/T/` and the code, in any case.
    pub fn parse(text: &str) -> Result<Self, CodeError> {
        let text = text.trim();
        if text.contains(['/', ':']) {
            Self::scanned(text)
        } else {
            Self::typed(text)
        }
    }

    /// Reads a code as scanned only: any symbol may hold six digits, and is no tag for that.
    pub fn scanned(text: &str) -> Result<Self, CodeError> {
        match Symbol::scanned(text)? {
            Symbol::Pen(code) => Ok(code),
            Symbol::Batch(_) => Err(CodeError::NotATag {
                read: text.trim().to_owned(),
            }),
        }
    }

    /// The number the check digit is made of, 0 to 99 999.
    pub const fn number(self) -> u32 {
        self.0
    }

    /// The check digit, 0 to 9.
    pub fn check_digit(self) -> u32 {
        // ISO/IEC 7064:2003, hybrid system MOD 11,10.
        let product = leading_digits(self.0)
            .into_iter()
            .fold(10, |product, digit| {
                let sum = (product + digit) % 10;
                (if sum == 0 { 10 } else { sum }) * 2 % 11
            });
        (11 - product) % 10
    }

    /// The six digits with nothing between, as stored and as in an address.
    pub fn digits(self) -> String {
        format!("{:05}{}", self.0, self.check_digit())
    }

    /// The path that a tag leads to, `/T/123450`.
    pub fn path(self) -> String {
        format!("/T/{}", self.digits())
    }

    fn typed(text: &str) -> Result<Self, CodeError> {
        let read = || text.to_owned();
        if text.chars().any(|c| !c.is_ascii_digit() && !is_gap(c)) {
            return Err(CodeError::NotDigits { read: read() });
        }
        if digits_in(text) != 6 {
            return Err(CodeError::WrongLength { read: read() });
        }
        let all = text
            .chars()
            .filter_map(|c| c.to_digit(10))
            .fold(0, |all, digit| all * 10 + digit);
        let code = Self(all / 10);
        if code.check_digit() == all % 10 {
            Ok(code)
        } else {
            Err(CodeError::Checksum { read: read() })
        }
    }
}

impl Symbol {
    /// Reads an http or https address of any origin whose path is `/T/` or `/B/` and a code, in any
    /// case.
    pub fn scanned(text: &str) -> Result<Self, CodeError> {
        let text = text.trim();
        let (leads, written) = code_of_address(text).ok_or_else(|| CodeError::NotATag {
            read: text.to_owned(),
        })?;
        let code = Code::typed(written)?;
        Ok(leads(code))
    }
}

/// As written on a tag: two groups of three, easy to read aloud.
impl fmt::Display for Code {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{:03} {:02}{}",
            self.0 / 100,
            self.0 % 100,
            self.check_digit()
        )
    }
}

impl From<Code> for String {
    fn from(code: Code) -> Self {
        code.digits()
    }
}

/// The stored form only: six digits with nothing between.
impl TryFrom<String> for Code {
    type Error = CodeError;

    fn try_from(read: String) -> Result<Self, CodeError> {
        if read.chars().any(|c| !c.is_ascii_digit()) {
            return Err(CodeError::NotDigits { read });
        }
        Self::typed(&read)
    }
}

fn leading_digits(number: u32) -> [u32; 5] {
    [10_000, 1_000, 100, 10, 1].map(|place| number / place % 10)
}

fn digits_in(text: &str) -> usize {
    text.chars().filter(char::is_ascii_digit).count()
}

/// Signs that people put between groups of digits: spaces and hyphens, typeset ones included.
fn is_gap(sign: char) -> bool {
    matches!(
        sign,
        ' ' | '-' | '\u{a0}' | '\u{2009}' | '\u{2010}' | '\u{2011}' | '\u{202f}'
    )
}

/// Makes a symbol of its code.
type Leads = fn(Code) -> Symbol;

/// What stands where the code should be in `http(s)://origin/T/code`, query and fragment cut, and
/// what it leads to.
fn code_of_address(text: &str) -> Option<(Leads, &str)> {
    let (scheme, rest) = text.split_once("://")?;
    let is_web = ["http", "https"]
        .iter()
        .any(|known| scheme.eq_ignore_ascii_case(known));
    let address = rest.split(['?', '#']).next()?;
    let mut parts = address.split('/');
    let host = parts.next()?;
    let leads: Leads = match parts.next()? {
        "T" | "t" => Symbol::Pen,
        "B" | "b" => Symbol::Batch,
        _ => return None,
    };
    let code = parts.next()?;
    (is_web && !host.is_empty() && parts.next().is_none()).then_some((leads, code))
}
