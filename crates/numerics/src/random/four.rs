//! Four 32-bit numbers at once: by WebAssembly's vector instructions, or one by one. The operations are whole-number
//! ones, so that both give the same bits.

/// By vector instructions, which a browser may lack: these functions are for others of that kind to call.
#[cfg(target_arch = "wasm32")]
pub mod vectors {
    use core::arch::wasm32::{
        u32x4, u32x4_add, u32x4_extract_lane, u32x4_shl, u32x4_shr, u32x4_splat, v128, v128_or,
        v128_xor,
    };

    /// Four numbers.
    pub type Four = v128;

    /// The same number four times.
    #[inline]
    #[target_feature(enable = "simd128")]
    pub fn splat(v: u32) -> Four {
        u32x4_splat(v)
    }

    /// Four numbers.
    #[inline]
    #[target_feature(enable = "simd128")]
    pub fn load([a, b, c, d]: [u32; 4]) -> Four {
        u32x4(a, b, c, d)
    }

    /// Sums, modulo 2^32.
    #[inline]
    #[target_feature(enable = "simd128")]
    pub fn add(a: Four, b: Four) -> Four {
        u32x4_add(a, b)
    }

    /// (a xor b) turned left by `LEFT` bits; `RIGHT` is 32 less that.
    #[inline]
    #[target_feature(enable = "simd128")]
    pub fn turn<const LEFT: i32, const RIGHT: i32>(a: Four, b: Four) -> Four {
        let x = v128_xor(a, b);
        v128_or(
            u32x4_shl(x, LEFT.cast_unsigned()),
            u32x4_shr(x, RIGHT.cast_unsigned()),
        )
    }

    /// The four numbers.
    #[inline]
    #[target_feature(enable = "simd128")]
    pub fn each(v: Four) -> [u32; 4] {
        [
            u32x4_extract_lane::<0>(v),
            u32x4_extract_lane::<1>(v),
            u32x4_extract_lane::<2>(v),
            u32x4_extract_lane::<3>(v),
        ]
    }
}

/// One by one.
pub mod singles {
    use std::array::from_fn;

    /// Four numbers.
    pub type Four = [u32; 4];

    /// The same number four times.
    #[inline(always)]
    pub fn splat(v: u32) -> Four {
        [v; 4]
    }

    /// Four numbers.
    #[inline(always)]
    pub fn load(v: [u32; 4]) -> Four {
        v
    }

    /// Sums, modulo 2^32.
    #[inline(always)]
    pub fn add(a: Four, b: Four) -> Four {
        from_fn(|i| a[i].wrapping_add(b[i]))
    }

    /// (a xor b) turned left by `LEFT` bits; `RIGHT` is 32 less that.
    #[inline(always)]
    pub fn turn<const LEFT: i32, const RIGHT: i32>(a: Four, b: Four) -> Four {
        from_fn(|i| (a[i] ^ b[i]).rotate_left(LEFT.cast_unsigned()))
    }

    /// The four numbers.
    #[inline(always)]
    pub fn each(v: Four) -> [u32; 4] {
        v
    }
}
