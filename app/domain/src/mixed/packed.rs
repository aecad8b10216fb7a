//! Symmetric matrices kept as their lower triangle, row by row, and the few loops over them that a
//! phone needs.

/// How many cells the triangle of `size` rows has.
pub(super) const fn cells(size: usize) -> usize {
    size * (size + 1) / 2
}

/// Where row `i` and column `j` stand, in either order.
pub(super) const fn place(i: usize, j: usize) -> usize {
    if i < j { cells(j) + i } else { cells(i) + j }
}

/// Adds `weight` times the product of `z` with itself.
pub(super) fn add_product(triangle: &mut [f64], z: &[f64], weight: f64) {
    let mut rest = triangle;
    for (i, a) in z.iter().enumerate() {
        let Some((row, after)) = rest.split_at_mut_checked(i + 1) else {
            return;
        };
        for (cell, b) in row.iter_mut().zip(z) {
            *cell += weight * a * b;
        }
        rest = after;
    }
}

/// `d` on both sides of the matrix.
pub(super) fn quadratic(triangle: &[f64], d: &[f64]) -> f64 {
    let (mut rest, mut sum) = (triangle, 0.0);
    for (i, a) in d.iter().enumerate() {
        let Some((row, after)) = rest.split_at_checked(i + 1) else {
            return f64::NAN;
        };
        // The cells left of the diagonal stand for those above it too.
        let left = dot(&row[..i], d);
        sum += a * (2.0 * left + row[i] * a);
        rest = after;
    }
    sum
}

/// The sum of the products.
pub(super) fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}
