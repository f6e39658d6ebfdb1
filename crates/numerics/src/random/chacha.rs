//! ChaCha with 8 rounds (Bernstein 2008, "ChaCha, a variant of Salsa20"), four blocks at a time: a 64-bit block
//! counter and a 64-bit stream number. The same numbers as the usual library's generator of that name, which has no
//! vector form for WebAssembly.

#[cfg(target_arch = "wasm32")]
use std::sync::OnceLock;

use super::four;
use super::source::BATCH;

const CONSTANTS: [u32; 4] = [0x6170_7865, 0x3320_646e, 0x7962_2d32, 0x6b20_6574];

/// The key that belongs to a seed: eight numbers of the generator PCG XSH-RR 64/32 (O'Neill 2014) seeded with it.
fn key(seed: u64) -> [u32; 8] {
    let mut state = seed;
    std::array::from_fn(|_| {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(11_634_580_027_462_260_723);
        let mixed = (((state >> 18) ^ state) >> 27) as u32;
        mixed.rotate_right((state >> 59) as u32)
    })
}

/// Writes `four_blocks(key, stream, block, out)`: blocks `block .. block + 4` of a stream, as 64-bit numbers in order.
macro_rules! four_blocks {
    ($lanes:ident, $(#[$attribute:meta])*) => {
        mod $lanes {
            use super::four::$lanes::{Four, add, each, load, splat, turn};
            use super::{BATCH, CONSTANTS};

            #[inline]
            $(#[$attribute])*
            fn quarter(x: &mut [Four; 16], a: usize, b: usize, c: usize, d: usize) {
                x[a] = add(x[a], x[b]);
                x[d] = turn::<16, 16>(x[d], x[a]);
                x[c] = add(x[c], x[d]);
                x[b] = turn::<12, 20>(x[b], x[c]);
                x[a] = add(x[a], x[b]);
                x[d] = turn::<8, 24>(x[d], x[a]);
                x[c] = add(x[c], x[d]);
                x[b] = turn::<7, 25>(x[b], x[c]);
            }

            $(#[$attribute])*
            pub fn four_blocks(key: &[u32; 8], stream: u64, block: u64, out: &mut [u64; BATCH]) {
                let mut start = [splat(0); 16];
                for i in 0..4 {
                    start[i] = splat(CONSTANTS[i]);
                }
                for i in 0..8 {
                    start[4 + i] = splat(key[i]);
                }
                let blocks = [0, 1, 2, 3].map(|i| block.wrapping_add(i));
                start[12] = load(blocks.map(|b| b as u32));
                start[13] = load(blocks.map(|b| (b >> 32) as u32));
                start[14] = splat(stream as u32);
                start[15] = splat((stream >> 32) as u32);
                let mut x = start;
                for _ in 0..4 {
                    quarter(&mut x, 0, 4, 8, 12);
                    quarter(&mut x, 1, 5, 9, 13);
                    quarter(&mut x, 2, 6, 10, 14);
                    quarter(&mut x, 3, 7, 11, 15);
                    quarter(&mut x, 0, 5, 10, 15);
                    quarter(&mut x, 1, 6, 11, 12);
                    quarter(&mut x, 2, 7, 8, 13);
                    quarter(&mut x, 3, 4, 9, 14);
                }
                for pair in 0..8 {
                    let low = each(add(x[2 * pair], start[2 * pair]));
                    let high = each(add(x[2 * pair + 1], start[2 * pair + 1]));
                    for b in 0..4 {
                        out[8 * b + pair] = u64::from(low[b]) | u64::from(high[b]) << 32;
                    }
                }
            }
        }
    };
}

four_blocks!(singles,);
#[cfg(target_arch = "wasm32")]
four_blocks!(vectors, #[target_feature(enable = "simd128")]);

/// A way to make four blocks: of key, stream, first block, to there.
#[cfg(target_arch = "wasm32")]
type FourBlocks = fn(&[u32; 8], u64, u64, &mut [u64; BATCH]);

/// How blocks are made where it is not one by one.
#[cfg(target_arch = "wasm32")]
static OTHERWISE: OnceLock<FourBlocks> = OnceLock::new();

/// From now on random numbers are made by vector instructions: the same ones, sooner. A program that does not call this
/// holds no such instruction.
#[cfg(target_arch = "wasm32")]
pub fn use_vectors() {
    OTHERWISE
        .get_or_init(|| |key, stream, block, out| vectors::four_blocks(key, stream, block, out));
}

/// One stream of one seed.
#[derive(Clone, Debug)]
pub struct ChaCha8 {
    key: [u32; 8],
    stream: u64,
}

impl ChaCha8 {
    /// The stream numbered `stream` of the seed.
    pub fn new(seed: u64, stream: u64) -> Self {
        Self {
            key: key(seed),
            stream,
        }
    }

    /// Blocks `block .. block + 4`, as 64-bit numbers in order.
    pub fn four_blocks(&mut self, block: u64, out: &mut [u64; BATCH]) {
        #[cfg(target_arch = "wasm32")]
        if let Some(four_blocks) = OTHERWISE.get() {
            return four_blocks(&self.key, self.stream, block, out);
        }
        singles::four_blocks(&self.key, self.stream, block, out);
    }
}
