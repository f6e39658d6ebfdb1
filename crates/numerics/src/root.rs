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

/// The root of a rising f between `low` and `high`, by Newton's method from `start`, to a relative step of `tolerance`.
///
/// `f` gives its value and its slope. A step that would leave what is known of the root's place is halved towards its
/// edge; if f is above 0 at `low`, or below it at `high`, that end comes back. At most 200 steps.
pub fn rising(
    f: impl Fn(f64) -> (f64, f64),
    start: f64,
    low: f64,
    high: f64,
    tolerance: f64,
) -> f64 {
    let (mut a, mut b) = (low, high);
    // Whether f has been looked at there.
    let (mut seen_a, mut seen_b) = (false, false);
    let mut x = start.clamp(low, high);
    for _ in 0..200 {
        let (value, slope) = f(x);
        if value == 0.0 || (x == low && value > 0.0) || (x == high && value < 0.0) {
            return x;
        }
        if value > 0.0 {
            (b, seen_b) = (x, true);
        } else {
            (a, seen_a) = (x, true);
        }
        let step = x - value / slope;
        let next = if step > a && step < b {
            step
        } else if !seen_a && step <= low {
            low
        } else if !seen_b && step >= high {
            high
        } else {
            0.5 * (a + b)
        };
        let near = (next - x).abs() <= tolerance * (next.abs() + x.abs());
        x = next;
        if near {
            break;
        }
    }
    x
}

#[cfg(test)]
mod tests {
    use super::*;

    /// From either side, from where the slope leads far away, and where there is no root.
    #[test]
    fn a_rising_function() {
        let cube = |x: f64| (x * x * x - 2.0, 3.0 * x * x);
        for start in [0.0, 1e-6, 0.5, 5.0] {
            let x = rising(cube, start, 0.0, 5.0, 1e-12);
            assert!((x * x * x - 2.0).abs() < 1e-12, "{start}: {x}");
        }
        let flat = |x: f64| (x.atan(), 1.0 / (1.0 + x * x));
        assert!(rising(flat, 9.0, -10.0, 1e3, 1e-12).abs() < 1e-9);
        let steep = |x: f64| ((20.0 * (x - 300.0)).tanh(), 0.0);
        let x = rising(steep, 0.0, 0.0, 1e3, 1e-12);
        assert!((x - 300.0).abs() < 1e-8, "{x}");
        assert_eq!(rising(cube, 3.0, 2.0, 5.0, 1e-12), 2.0);
        assert_eq!(rising(cube, 0.5, 0.0, 1.0, 1e-12), 1.0);
    }

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
