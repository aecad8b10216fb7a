//! Writes the pictures that the independent decoders are given:
//! `cargo run -p pentally-tests --example tag_pictures -- tests/tags`.

use pentally_domain::code::Code;
use pentally_server::tags::{Origin, svg};
use std::path::Path;

const INPUTS: &str = include_str!("../tags/inputs.csv");

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let folder = std::env::args()
        .nth(1)
        .ok_or("name the folder to write to")?;
    for line in INPUTS.lines().skip(1) {
        let [name, origin, number] = line.split(',').collect::<Vec<_>>()[..] else {
            return Err(format!("'{line}' is not name,origin,number").into());
        };
        let code =
            Code::from_number(number.parse()?).ok_or("a number below 100000 was expected")?;
        let picture = svg(&Origin::parse(origin)?, code)?;
        std::fs::write(Path::new(&folder).join(name).with_extension("svg"), picture)?;
    }
    Ok(())
}
