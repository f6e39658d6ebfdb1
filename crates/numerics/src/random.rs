//! Random streams: the same numbers for the same (seed, stream, place), whatever else was drawn.
//!
//! ChaCha8 with one stream a replicate; inside a stream every unit of work (a site's year, a group's year, ...)
//! has a place of its own, [`WORDS_PER_PLACE`] words wide. A unit therefore draws the same numbers whether it stands
//! in a small plan or a large one: plans on one curve share their luck, and a small plan is part of the large one.

#[cfg(any(test, target_arch = "wasm32"))]
mod chacha;
#[cfg(any(test, target_arch = "wasm32"))]
mod four;
mod source;

#[cfg(target_arch = "wasm32")]
pub use chacha::use_vectors;

use source::{BATCH, Source};

/// Width of one place in 32-bit words: more than any unit draws.
pub const WORDS_PER_PLACE: u128 = 1 << 40;
/// The same in blocks of 16 words.
const BLOCKS_PER_PLACE: u64 = (WORDS_PER_PLACE / 16) as u64;

/// The random numbers of one replicate.
#[derive(Clone, Debug)]
pub struct Stream {
    source: Source,
    /// The block the next batch begins with.
    block: u64,
    batch: [u64; BATCH],
    used: usize,
}

impl Stream {
    /// The stream numbered `stream` of the seed.
    pub fn new(seed: u64, stream: u64) -> Self {
        Self {
            source: Source::new(seed, stream),
            block: 0,
            batch: [0; BATCH],
            used: BATCH,
        }
    }

    /// Goes to the start of the place `(kind, a, b)`.
    ///
    /// A stream is 2^68 words long: kinds below 2^8, `a` below 2^12 and `b` below 2^8 leave 2^40 words for a place.
    ///
    /// # Panics
    /// When a number is beyond these: two units would share their numbers, which no result may rest on.
    pub fn go_to(&mut self, kind: u16, a: u32, b: u32) {
        assert!(
            kind < 1 << 8 && a < 1 << 12 && b < 1 << 8,
            "no place ({kind}, {a}, {b}) in a stream"
        );
        let place = (u64::from(kind) << 20) | (u64::from(a) << 8) | u64::from(b);
        self.block = place * BLOCKS_PER_PLACE;
        self.used = BATCH;
    }

    /// 64 random bits.
    #[inline]
    pub fn bits(&mut self) -> u64 {
        if self.used >= BATCH {
            self.refill();
        }
        let bits = self.batch[self.used];
        self.used += 1;
        bits
    }

    #[inline(never)]
    fn refill(&mut self) {
        self.source.four_blocks(self.block, &mut self.batch);
        self.block = self.block.wrapping_add(4);
        self.used = 0;
    }

    /// A uniform number strictly between 0 and 1, with 53 random bits.
    #[inline]
    pub fn uniform(&mut self) -> f64 {
        unit(self.bits())
    }

    /// A standard normal number by inversion: exactly one uniform each, so that streams stay in step.
    #[inline]
    pub fn normal(&mut self) -> f64 {
        crate::special::normal::quantile(self.uniform())
    }
}

/// The upper 53 bits as a number strictly between 0 and 1.
#[inline]
pub fn unit(bits: u64) -> f64 {
    const SCALE: f64 = 1.0 / (1u64 << 53) as f64;
    ((bits >> 11) as f64 + 0.5) * SCALE
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Pins the stream: a change here changes every result of every saved scenario.
    #[test]
    fn value_stability() {
        let mut s = Stream::new(1, 0);
        s.go_to(2, 3, 4);
        let first = s.uniform();
        let mut t = Stream::new(1, 1);
        t.go_to(2, 3, 4);
        assert_ne!(first, t.uniform());
        s.go_to(2, 3, 5);
        let other = s.uniform();
        s.go_to(2, 3, 4);
        assert_eq!(s.uniform(), first);
        assert_ne!(first, other);
        assert_eq!(first.to_bits(), PINNED, "{:#x}", first.to_bits());
    }

    const PINNED: u64 = 0x3fdc_2868_e2c2_d9b9;

    #[test]
    fn uniforms_are_open_and_even() {
        let mut s = Stream::new(7, 7);
        let n = 20_000;
        let (mut sum, mut squares) = (0.0, 0.0);
        for _ in 0..n {
            let u = s.uniform();
            assert!(u > 0.0 && u < 1.0);
            sum += u;
            squares += u * u;
        }
        let mean = sum / f64::from(n);
        assert!((mean - 0.5).abs() < 0.01);
        assert!((squares / f64::from(n) - 1.0 / 3.0).abs() < 0.01);
    }
}
