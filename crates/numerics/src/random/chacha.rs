//! ChaCha with 8 rounds (Bernstein 2008, "ChaCha, a variant of Salsa20"), four blocks at a time: a 64-bit block
//! counter and a 64-bit stream number. The same numbers as the usual library's generator of that name, which has no
//! vector form for WebAssembly.

use super::four::{Four, add, each, load, splat, turn};
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

#[inline(always)]
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
        let (key, stream) = (&self.key, self.stream);
        let blocks: [u64; 4] = std::array::from_fn(|i| block.wrapping_add(i as u64));
        let start: [Four; 16] = std::array::from_fn(|i| match i {
            0..4 => splat(CONSTANTS[i]),
            4..12 => splat(key[i - 4]),
            12 => load(blocks.map(|b| b as u32)),
            13 => load(blocks.map(|b| (b >> 32) as u32)),
            14 => splat(stream as u32),
            _ => splat((stream >> 32) as u32),
        });
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
