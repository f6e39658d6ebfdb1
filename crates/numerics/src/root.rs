//! Root finding on an interval.

/// The root of f between `low` and `high`, where f changes sign, to a relative width of `tolerance`.
///
/// Bisection with interpolation (the Illinois form of false position), at most 200 steps; if f does not change sign
/// the end with the smaller |f| comes back.
pub fn bracketed(f: impl Fn(f64) -> f64, low: f64, high: f64, tolerance: f64) -> f64 {
    let (mut a, mut b) = (low, high);
    let (mut fa, mut fb) = (f(a), f(b));
    if fa == 0.0 {
        return a;
    }
    if fb == 0.0 {
        return b;
    }
    if (fa > 0.0) == (fb > 0.0) {
        return if fa.abs() < fb.abs() { a } else { b };
    }
    for step in 0..200 {
        if (b - a).abs() <= tolerance * (a.abs() + b.abs()) {
            break;
        }
        let secant = b - fb * (b - a) / (fb - fa);
        let inside = secant > a.min(b) && secant < a.max(b);
        let x = if step % 3 == 2 || !inside {
            0.5 * (a + b)
        } else {
            secant
        };
        let fx = f(x);
        if fx == 0.0 {
            return x;
        }
        if (fx > 0.0) == (fb > 0.0) {
            b = x;
            fb = fx;
            fa *= 0.5;
        } else {
            a = b;
            fa = fb;
            b = x;
            fb = fx;
        }
    }
    0.5 * (a + b)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_a_cube_root() {
        let x = bracketed(|x| x * x * x - 2.0, 0.0, 5.0, 1e-15);
        assert!((x * x * x - 2.0).abs() < 1e-13);
    }

    #[test]
    fn without_a_change_of_sign_the_nearer_end() {
        assert_eq!(bracketed(|x| x + 1.0, 0.0, 5.0, 1e-12), 0.0);
    }
}
