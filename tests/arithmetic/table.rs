//! Reads the committed outputs of `generate.py`.

/// The rows of a file of this folder, without the line that names its maker and the header.
pub fn rows<const N: usize>(text: &'static str) -> Vec<[&'static str; N]> {
    let cells = |line: &'static str| line.split(',').collect::<Vec<_>>().try_into();
    let rows: Vec<_> = text
        .lines()
        .skip(2)
        .map(|line| cells(line).expect(line))
        .collect();
    assert!(rows.len() > 50, "the file is cut short");
    rows
}

/// A cell as a number.
pub fn number(cell: &str) -> f64 {
    cell.parse().expect(cell)
}
