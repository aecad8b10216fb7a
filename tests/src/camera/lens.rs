//! From the card's plane to the picture: perspective, blur, smear.

use super::{Card, DISTANCE_MM, Shot};

type Vector = [f64; 3];

/// Light from 0 to 1 of each pixel, two by two samples each.
pub fn project(shot: &Shot, card: &Card) -> Vec<f64> {
    let (right, down) = axes(shot);
    // A sight line meets the card's plane at x·right + y·down + (0, 0, distance).
    let normal = cross(right, down);
    let focal_px = shot.px_per_mm * DISTANCE_MM;
    let middle = (shot.width as f64 / 2.0, shot.height as f64 / 2.0);
    let seen = |column: f64, row: f64| {
        let sight = [column - middle.0, row - middle.1, focal_px];
        let reach = DISTANCE_MM * normal[2] / dot(sight, normal);
        let hit = [
            sight[0] * reach,
            sight[1] * reach,
            sight[2] * reach - DISTANCE_MM,
        ];
        card.at(
            shot.centre_mm.0 + dot(hit, right),
            shot.centre_mm.1 + dot(hit, down),
        )
    };
    let mut light = Vec::with_capacity(shot.width * shot.height);
    for row in 0..shot.height {
        for column in 0..shot.width {
            let (x, y) = (column as f64, row as f64);
            let quarter = [(0.25, 0.25), (0.75, 0.25), (0.25, 0.75), (0.75, 0.75)];
            light.push(
                quarter
                    .map(|(dx, dy)| seen(x + dx, y + dy))
                    .iter()
                    .sum::<f64>()
                    / 4.0,
            );
        }
    }
    light
}

/// Gaussian blur, rows then columns.
pub fn blur(light: &mut [f64], width: usize, sigma_px: f64) {
    if sigma_px > 0.0 {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let reach = (3.0 * sigma_px).ceil() as usize;
        let weight = |at: usize| (-(at as f64 / sigma_px).powi(2) / 2.0).exp();
        let half: Vec<_> = (0..=reach).map(weight).collect();
        let all: Vec<_> = half.iter().skip(1).rev().chain(&half).copied().collect();
        let height = light.len() / width;
        for row in light.chunks_mut(width) {
            filter(row, &all);
        }
        for column in 0..width {
            let mut line: Vec<_> = (0..height).map(|y| light[y * width + column]).collect();
            filter(&mut line, &all);
            for (y, value) in line.into_iter().enumerate() {
                light[y * width + column] = value;
            }
        }
    }
}

/// A moving hand: the mean of `length` pixels side by side.
pub fn smear(light: &mut [f64], width: usize, length: usize) {
    for row in light.chunks_mut(width) {
        filter(row, &vec![1.0; length]);
    }
}

/// A weighted mean about each value; the ends repeat.
fn filter(line: &mut [f64], weights: &[f64]) {
    let total: f64 = weights.iter().sum();
    let before = line.to_vec();
    for (at, value) in line.iter_mut().enumerate() {
        let near = |k: usize| {
            before[(at + k)
                .saturating_sub(weights.len() / 2)
                .min(before.len() - 1)]
        };
        *value = weights
            .iter()
            .enumerate()
            .map(|(k, w)| w * near(k))
            .sum::<f64>()
            / total;
    }
}

/// The card's own right and down as the camera sees them: roll, then yaw, then pitch.
fn axes(shot: &Shot) -> (Vector, Vector) {
    let turn = |v: Vector| pitched(yawed(v, shot.yaw_deg), shot.pitch_deg);
    let (sin, cos) = shot.roll_deg.to_radians().sin_cos();
    (turn([cos, sin, 0.0]), turn([-sin, cos, 0.0]))
}

fn yawed([x, y, z]: Vector, deg: f64) -> Vector {
    let (sin, cos) = deg.to_radians().sin_cos();
    [x * cos + z * sin, y, z * cos - x * sin]
}

fn pitched([x, y, z]: Vector, deg: f64) -> Vector {
    let (sin, cos) = deg.to_radians().sin_cos();
    [x, y * cos - z * sin, y * sin + z * cos]
}

fn dot(a: Vector, b: Vector) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: Vector, b: Vector) -> Vector {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}
