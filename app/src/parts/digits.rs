//! What a keypad has typed, and whether it is a figure yet.

/// A figure to be typed: its bounds, both included, and its decimals.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figure {
    /// The least that is taken.
    pub low: f64,
    /// The most that is taken.
    pub high: f64,
    /// How many digits may follow the mark; 0 shows no mark.
    pub decimals: u8,
}

/// A key of the pad.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Press {
    /// 0 to 9.
    Digit(u8),
    /// The decimal mark.
    Mark,
    /// Takes the last character back.
    Erase,
}

/// What was typed so far, read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reading {
    /// Nothing.
    Empty,
    /// A mark without a digit after it.
    Unfinished,
    /// Below the bounds.
    TooLow(f64),
    /// Above the bounds.
    TooHigh(f64),
    /// A figure within bounds.
    Value(f64),
}

/// More digits before the mark than any figure of the trade needs.
const MOST_WHOLE: usize = 7;

impl Figure {
    /// What stands after a key; a key that cannot follow changes nothing. The mark
    /// is typed as `.` whatever the language shows.
    pub fn after(&self, typed: &str, press: Press) -> String {
        let mut next = typed.to_owned();
        match press {
            Press::Erase => {
                next.pop();
            }
            Press::Mark if self.decimals > 0 && !typed.contains('.') => {
                next.push_str(if typed.is_empty() { "0." } else { "." });
            }
            Press::Digit(digit) if digit <= 9 && self.takes_digit(typed) => {
                if typed == "0" {
                    next.clear();
                }
                next.push(char::from(b'0' + digit));
            }
            _ => {}
        }
        next
    }

    /// Reads what was typed against the bounds.
    pub fn read(&self, typed: &str) -> Reading {
        if typed.is_empty() {
            return Reading::Empty;
        }
        match typed.parse::<f64>() {
            Ok(_) if typed.ends_with('.') => Reading::Unfinished,
            Ok(value) if value < self.low => Reading::TooLow(value),
            Ok(value) if value > self.high => Reading::TooHigh(value),
            Ok(value) => Reading::Value(value),
            Err(_) => Reading::Unfinished,
        }
    }

    fn takes_digit(&self, typed: &str) -> bool {
        match typed.split_once('.') {
            Some((_, part)) => part.len() < usize::from(self.decimals),
            None => typed.len() < MOST_WHOLE,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const VOLUME: Figure = Figure {
        low: 5.0,
        high: 1000.0,
        decimals: 1,
    };
    const COUNT: Figure = Figure {
        low: 0.0,
        high: 9999.0,
        decimals: 0,
    };

    fn typed(figure: Figure, keys: &str) -> String {
        keys.chars().fold(String::new(), |typed, key| {
            let press = match key {
                '.' => Press::Mark,
                '<' => Press::Erase,
                digit => Press::Digit(u8::try_from(digit.to_digit(10).unwrap()).unwrap()),
            };
            figure.after(&typed, press)
        })
    }

    #[test]
    fn digits_and_one_mark_make_a_figure() {
        assert_eq!(typed(VOLUME, "25.07.3"), "25.0");
        assert_eq!(typed(VOLUME, ".5"), "0.5");
        assert_eq!(typed(VOLUME, "007"), "7");
        assert_eq!(typed(COUNT, "1.2"), "12");
        assert_eq!(typed(COUNT, "123456789"), "1234567");
    }

    #[test]
    fn erasing_takes_one_back_and_stops_at_nothing() {
        assert_eq!(typed(VOLUME, "25<"), "2");
        assert_eq!(typed(VOLUME, "<<"), "");
    }

    #[test]
    fn a_reading_says_what_is_wrong() {
        assert_eq!(VOLUME.read(""), Reading::Empty);
        assert_eq!(VOLUME.read("25."), Reading::Unfinished);
        assert_eq!(VOLUME.read("4.9"), Reading::TooLow(4.9));
        assert_eq!(VOLUME.read("1000.1"), Reading::TooHigh(1000.1));
        assert_eq!(VOLUME.read("5"), Reading::Value(5.0));
        assert_eq!(VOLUME.read("1000"), Reading::Value(1000.0));
    }
}
