//! Prints what was measured, and remembers what missed its target.

#[derive(Default)]
pub struct Judge {
    missed: Vec<String>,
}

impl Judge {
    /// One figure with its target; `judged` is false where it is only told.
    pub fn see(&mut self, judged: bool, reached: bool, what: &str) {
        let mark = match (judged, reached) {
            (_, true) => "  ",
            (true, false) => "!!",
            (false, false) => "- ",
        };
        println!("  {mark}{what}");
        if judged && !reached {
            self.missed.push(what.to_owned());
        }
    }

    /// Says what was missed; true if nothing was.
    pub fn over(&self) -> bool {
        println!("\n{} targets missed", self.missed.len());
        for what in &self.missed {
            println!("  {what}");
        }
        self.missed.is_empty()
    }
}
