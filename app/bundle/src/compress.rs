//! Compression at build time, so that the server only picks.

use brotli::enc::BrotliEncoderParams;
use flate2::Compression;
use flate2::write::GzEncoder;
use std::io::{self, Write};

/// The bytes in brotli at its best quality.
pub fn brotli(bytes: &[u8]) -> io::Result<Vec<u8>> {
    let params = BrotliEncoderParams {
        quality: 11,
        lgwin: 22,
        ..Default::default()
    };
    let mut out = Vec::new();
    brotli::BrotliCompress(&mut &bytes[..], &mut out, &params)?;
    Ok(out)
}

/// The bytes in gzip at its best level.
pub fn gzip(bytes: &[u8]) -> io::Result<Vec<u8>> {
    let mut encoder = GzEncoder::new(Vec::new(), Compression::best());
    encoder.write_all(bytes)?;
    encoder.finish()
}

#[cfg(test)]
mod tests {
    use super::{brotli, gzip};
    use std::io::Read;

    #[test]
    fn both_give_back_what_went_in() {
        let text = b"the boar rests till Thursday ".repeat(50);
        let mut back = Vec::new();
        brotli::BrotliDecompress(&mut &brotli(&text).unwrap()[..], &mut back).unwrap();
        assert_eq!(back, text);
        back.clear();
        flate2::read::GzDecoder::new(&gzip(&text).unwrap()[..])
            .read_to_end(&mut back)
            .unwrap();
        assert_eq!(back, text);
    }
}
