// The marks between the pieces of a compiled message, for who writes and who reads it.

/// Before the name of a variable.
pub const VAR: char = '\u{1}';
/// Before the name of the variable that decides between texts.
pub const CHOICE: char = '\u{2}';
/// Before each of these texts: its condition, then the text.
pub const VARIANT: char = '\u{3}';
/// Before the condition of the text that is taken when no other fits.
pub const DEFAULT: char = '\u{4}';
/// After a name or a condition.
pub const NAMED: char = '\u{5}';
/// After the last text of a choice.
pub const END: char = '\u{6}';
