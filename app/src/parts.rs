//! The parts of a screen, thin and without knowledge of boars: what they show is
//! passed in, what is tapped goes out.

mod action;
mod band;
mod chips;
mod digits;
mod keypad;
mod mark;
mod measure;
mod places;
mod record;
mod scores;
mod stepper;
mod tap;
mod undo;

pub use action::{Action, Drop, Kind};
pub use band::{Band, Role, Title};
pub use chips::{Chips, ManyChips};
pub use digits::{Figure, Press, Reading};
pub use keypad::{CodePad, Keypad, PadKey, in_fours};
pub use mark::{Drawing, Mark, Sprite, provide_sprite};
pub use measure::{Caution, How, Measure, Size};
pub use places::{Place, Places};
pub use record::RecordState;
pub use scores::Scores;
pub use stepper::Stepper;
pub use tap::{Tap, UnderWay, is_repeat};
pub use undo::Undo;
