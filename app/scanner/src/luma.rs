//! Grey pictures and the few things done to them before decoding.

/// A grey picture, row by row, 0 black to 255 white.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Luma {
    width: usize,
    height: usize,
    pixels: Vec<u8>,
}

/// Narrower or lower pictures hold no symbol (21 modules and a quiet zone of 4 about them).
const LEAST: usize = 29;

impl Luma {
    /// A picture of `width × height` grey values; `None` if their number is another or either
    /// side is under 29, where no symbol fits.
    pub fn new(pixels: Vec<u8>, width: usize, height: usize) -> Option<Self> {
        let fits = width >= LEAST && height >= LEAST && width.checked_mul(height)? == pixels.len();
        fits.then_some(Self {
            width,
            height,
            pixels,
        })
    }

    /// A picture from red, green, blue and opacity bytes, as a canvas gives them, weighed as in
    /// ITU-R BT.601; `None` as in [`Luma::new`].
    pub fn of_rgba(rgba: &[u8], width: usize, height: usize) -> Option<Self> {
        let grey = |p: &[u8]| {
            let weighed = 77 * u32::from(p[0]) + 150 * u32::from(p[1]) + 29 * u32::from(p[2]);
            u8::try_from(weighed >> 8).unwrap_or(u8::MAX)
        };
        let whole = rgba.len().is_multiple_of(4);
        whole
            .then(|| rgba.chunks_exact(4).map(grey).collect())
            .and_then(|p| Self::new(p, width, height))
    }

    /// Pixels in a row.
    pub const fn width(&self) -> usize {
        self.width
    }

    /// Rows.
    pub const fn height(&self) -> usize {
        self.height
    }

    /// One grey value.
    pub fn at(&self, x: usize, y: usize) -> u8 {
        self.pixels[y * self.width + x]
    }

    /// The middle of the picture, at most this wide and high.
    #[must_use]
    pub fn middle(&self, most: (usize, usize)) -> Self {
        let (width, height) = (self.width.min(most.0), self.height.min(most.1));
        let (left, top) = ((self.width - width) / 2, (self.height - height) / 2);
        let row = |y: usize| &self.pixels[y * self.width + left..][..width];
        let pixels = (top..top + height).flat_map(row).copied().collect();
        Self {
            width,
            height,
            pixels,
        }
    }

    /// Twice the size, grey values between the old ones interpolated.
    #[must_use]
    pub fn doubled(&self) -> Self {
        let (width, height) = (2 * self.width, 2 * self.height);
        let mut pixels = Vec::with_capacity(width * height);
        for y in 0..height {
            let rows = nearest_two(y, self.height).map(|near| near * self.width);
            for x in 0..width {
                let columns = nearest_two(x, self.width);
                let of_row = |row| {
                    let grey = |column: usize| u32::from(self.pixels[row + column]);
                    3 * grey(columns[0]) + grey(columns[1])
                };
                let sum = 3 * of_row(rows[0]) + of_row(rows[1]);
                pixels.push(u8::try_from((sum + 8) / 16).unwrap_or(u8::MAX));
            }
        }
        Self {
            width,
            height,
            pixels,
        }
    }

    /// Each value moved away from the mean of its surroundings by twice its distance from it.
    #[must_use]
    pub fn sharpened(&self, reach: usize) -> Self {
        let mut pixels = Vec::with_capacity(self.pixels.len());
        self.each_with_near(reach, |grey, sum, count| {
            let (grey, mean) = (i64::from(grey), i64::from(sum / count));
            let away = (3 * grey - 2 * mean).clamp(0, 255);
            pixels.push(u8::try_from(away).unwrap_or(u8::MAX));
        });
        Self { pixels, ..*self }
    }

    /// Which pixels are darker than `percent` of the mean of those within `reach`.
    pub fn darker_than_near(&self, reach: usize, percent: u32) -> Vec<bool> {
        let mut black = Vec::with_capacity(self.pixels.len());
        self.each_with_near(reach, |grey, sum, count| {
            let (grey, mean) = (u64::from(grey) * u64::from(count), u64::from(sum));
            black.push(100 * grey < u64::from(percent) * mean);
        });
        black
    }

    /// Calls with each grey value, and the sum and number of those in the square about it.
    fn each_with_near(&self, reach: usize, mut see: impl FnMut(u8, u32, u32)) {
        let sums = self.sums();
        let line = self.width + 1;
        for y in 0..self.height {
            let (top, end) = (y.saturating_sub(reach), (y + reach + 1).min(self.height));
            for x in 0..self.width {
                let (left, right) = (x.saturating_sub(reach), (x + reach + 1).min(self.width));
                // Sums wrap round beyond 16 million white pixels; their differences do not.
                let sum = sums[end * line + right]
                    .wrapping_sub(sums[top * line + right])
                    .wrapping_sub(sums[end * line + left])
                    .wrapping_add(sums[top * line + left]);
                let count = (end - top) * (right - left);
                see(self.at(x, y), sum, u32::try_from(count).unwrap_or(u32::MAX));
            }
        }
    }

    /// At (x, y) the sum of all values above and left of it (a summed-area table).
    fn sums(&self) -> Vec<u32> {
        let line = self.width + 1;
        let mut sums = vec![0_u32; line * (self.height + 1)];
        for y in 0..self.height {
            let mut row = 0_u32;
            for x in 0..self.width {
                row = row.wrapping_add(u32::from(self.at(x, y)));
                sums[(y + 1) * line + x + 1] = sums[y * line + x + 1].wrapping_add(row);
            }
        }
        sums
    }
}

/// The old pixel under a new one at twice the size, and the next nearest.
fn nearest_two(at: usize, end: usize) -> [usize; 2] {
    let near = at / 2;
    let next = if at.is_multiple_of(2) {
        near.saturating_sub(1)
    } else {
        (near + 1).min(end - 1)
    };
    [near, next]
}
