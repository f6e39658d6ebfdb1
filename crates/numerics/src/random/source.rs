//! Where the blocks of random numbers come from: the usual library's ChaCha8, which has vector forms for processors
//! but none for WebAssembly; there [`super::chacha`] makes the same numbers.

/// Numbers of 64 bits made at once: four blocks.
pub const BATCH: usize = 32;

#[cfg(target_arch = "wasm32")]
pub use super::chacha::ChaCha8 as Source;
#[cfg(not(target_arch = "wasm32"))]
pub use library::Source;

#[cfg(not(target_arch = "wasm32"))]
mod library {
    use super::BATCH;
    use rand_chacha::ChaCha8Rng;
    use rand_core::{Rng, SeedableRng};

    /// One stream of one seed.
    #[derive(Clone, Debug)]
    pub struct Source {
        rng: ChaCha8Rng,
    }

    impl Source {
        /// The stream numbered `stream` of the seed.
        pub fn new(seed: u64, stream: u64) -> Self {
            let mut rng = ChaCha8Rng::seed_from_u64(seed);
            rng.set_stream(stream);
            Self { rng }
        }

        /// Blocks `block .. block + 4`, as 64-bit numbers in order.
        pub fn four_blocks(&mut self, block: u64, out: &mut [u64; BATCH]) {
            self.rng.set_word_pos(u128::from(block) * 16);
            let mut bytes = [0; 8 * BATCH];
            self.rng.fill_bytes(&mut bytes);
            for (v, eight) in out.iter_mut().zip(bytes.as_chunks().0) {
                *v = u64::from_le_bytes(*eight);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::chacha::ChaCha8;
    use super::*;

    /// Both sources, over places far apart.
    #[test]
    fn same_numbers_from_both() {
        for (seed, stream) in [(0, 0), (1, 7), (u64::MAX, u64::MAX - 3)] {
            let (mut a, mut b) = (Source::new(seed, stream), ChaCha8::new(seed, stream));
            for block in [0, 3, 1 << 31, u64::from(u32::MAX) - 1, (1 << 60) + 5] {
                let (mut x, mut y) = ([0; BATCH], [0; BATCH]);
                a.four_blocks(block, &mut x);
                b.four_blocks(block, &mut y);
                assert_eq!(x, y, "{seed} {stream} {block}");
            }
        }
    }
}
