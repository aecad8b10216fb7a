//! A camera that looks at a pen tag: tilted, blurred, dirty, in bad light, from a seed.
//!
//! [`Card`] is the printed tag with dirt on it, [`Shot`] how it is seen, [`Frame`] what the
//! camera gives. [`write_y4m`] makes a file that Chromium takes for a camera
//! (`--use-fake-device-for-media-stream --use-file-for-fake-video-capture=FILE`).

use chance::Chance;
use std::io::{self, Write};
use std::path::Path;

pub use card::{Card, CardError};

mod card;
mod chance;
mod lens;

/// A grey picture, row by row, 0 black to 255 white.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Frame {
    /// Pixels in a row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// `width × height` grey values.
    pub pixels: Vec<u8>,
}

/// How a card is seen. All but the size, the scale and the seed default to a perfect picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shot {
    /// Pixels in a row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// Scale in the middle of the picture, from [`DISTANCE_MM`] away.
    pub px_per_mm: f64,
    /// The point of the card in the middle of the picture, mm from its top left corner.
    pub centre_mm: (f64, f64),
    /// Turned about the upright axis.
    pub yaw_deg: f64,
    /// Leant back.
    pub pitch_deg: f64,
    /// Turned in the picture.
    pub roll_deg: f64,
    /// Standard deviation of a Gaussian blur.
    pub blur_px: f64,
    /// Length of a sideways smear by a moving hand.
    pub smear_px: usize,
    /// Standard deviation of the noise, in grey values.
    pub noise: f64,
    /// How much darker the right edge is than the left: 0 not at all, 1 black.
    pub shadow: f64,
    /// What the noise is drawn from.
    pub seed: u64,
}

/// How far the camera is from the card.
pub const DISTANCE_MM: f64 = 500.0;
/// Light on white paper, in grey values.
const WHITE: f64 = 230.0;
/// What black ink still reflects, in grey values.
const BLACK: f64 = 25.0;

impl Shot {
    /// A sharp, straight look at the middle of the card.
    pub fn new(width: usize, height: usize, px_per_mm: f64, seed: u64) -> Self {
        Self {
            width,
            height,
            px_per_mm,
            centre_mm: (card::WIDTH_MM / 2.0, card::HEIGHT_MM / 2.0),
            yaw_deg: 0.0,
            pitch_deg: 0.0,
            roll_deg: 0.0,
            blur_px: 0.0,
            smear_px: 1,
            noise: 0.0,
            shadow: 0.0,
            seed,
        }
    }

    /// A hand that holds the phone well enough: up to 30° off in yaw and pitch, any roll up to
    /// 20°, a little blur, noise and shadow.
    pub fn by_hand(width: usize, height: usize, px_per_mm: f64, seed: u64) -> Self {
        let mut chance = Chance::new(seed);
        Self {
            yaw_deg: chance.between(-30.0, 30.0),
            pitch_deg: chance.between(-30.0, 30.0),
            roll_deg: chance.between(-20.0, 20.0),
            blur_px: chance.between(0.4, 1.2),
            noise: chance.between(2.0, 8.0),
            shadow: chance.between(0.0, 0.5),
            ..Self::new(width, height, px_per_mm, seed)
        }
    }

    /// What the camera gives.
    pub fn of(&self, card: &Card) -> Frame {
        let mut light = lens::project(self, card);
        lens::blur(&mut light, self.width, self.blur_px);
        lens::smear(&mut light, self.width, self.smear_px);
        let mut chance = Chance::new(self.seed ^ 0x5eed);
        let pixels = light.iter().enumerate().map(|(at, reflected)| {
            let across = (at % self.width) as f64 / self.width as f64;
            let lit = (BLACK + reflected * (WHITE - BLACK)) * (1.0 - self.shadow * across);
            grey(lit + self.noise * chance.normal())
        });
        Frame {
            width: self.width,
            height: self.height,
            pixels: pixels.collect(),
        }
    }
}

impl Frame {
    /// As a canvas gives it: red, green, blue and opacity of each pixel.
    pub fn rgba(&self) -> Vec<u8> {
        self.pixels
            .iter()
            .flat_map(|&v| [v, v, v, u8::MAX])
            .collect()
    }
}

/// Writes frames of one even size as a video of ten a second (`YUV4MPEG2`, 4:2:0).
pub fn write_y4m(path: &Path, frames: &[Frame]) -> io::Result<()> {
    let Some(first) = frames.first() else {
        return Err(io::Error::other("a video needs one frame at least"));
    };
    let (width, height) = (first.width, first.height);
    if width % 2 + height % 2 > 0
        || frames
            .iter()
            .any(|f| (f.width, f.height) != (width, height))
    {
        return Err(io::Error::other(
            "the frames of a video are of one even size",
        ));
    }
    let mut file = io::BufWriter::new(std::fs::File::create(path)?);
    writeln!(file, "YUV4MPEG2 W{width} H{height} F10:1 Ip A1:1 C420jpeg")?;
    let no_colour = vec![128; width * height / 2];
    for frame in frames {
        file.write_all(b"FRAME\n")?;
        file.write_all(&frame.pixels)?;
        file.write_all(&no_colour)?;
    }
    file.flush()
}

/// The nearest grey value.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn grey(value: f64) -> u8 {
    // Clamped just before, so that nothing is cut off.
    value.clamp(0.0, 255.0).round() as u8
}
