//! Elementary functions, the same bits on every machine.
//!
//! The platform's own `exp` and `ln` differ in the last digit between C libraries; libm (a port of musl's)
//! is compiled into both the native program and the WebAssembly module. Square root, floor, absolute value and
//! the four operations are exact by IEEE 754 and are used from `f64` directly.

pub mod slices;

/// e to the power x.
#[inline]
pub fn exp(x: f64) -> f64 {
    libm::exp(x)
}

/// e to the power x, less 1, precise for small x.
#[inline]
pub fn exp_m1(x: f64) -> f64 {
    libm::expm1(x)
}

/// Natural logarithm.
#[inline]
pub fn ln(x: f64) -> f64 {
    libm::log(x)
}

/// Natural logarithm of 1 + x, precise for small x.
#[inline]
pub fn ln_1p(x: f64) -> f64 {
    libm::log1p(x)
}

/// x to the power y.
#[inline]
pub fn pow(x: f64, y: f64) -> f64 {
    libm::pow(x, y)
}

/// Complementary error function, 1 - erf(x), precise in the upper tail.
#[inline]
pub fn erfc(x: f64) -> f64 {
    libm::erfc(x)
}

/// Logarithm of the absolute value of the gamma function.
#[inline]
pub fn ln_gamma(x: f64) -> f64 {
    libm::lgamma(x)
}
