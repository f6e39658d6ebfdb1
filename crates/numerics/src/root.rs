//! Root finding on an interval.

mod bracket;

pub use bracket::Bracket;

/// The root of f between `low` and `high`, where f changes sign, to within `tolerance` times the root's size: the search
/// of [`Bracket`]. If f does not change sign the end with the smaller |f| comes back.
pub fn bracketed(f: impl Fn(f64) -> f64, low: f64, high: f64, tolerance: f64) -> f64 {
    let mut search = Bracket::new((low, f(low)), (high, f(high)), tolerance);
    while let Some(x) = search.ask() {
        search.tell(f(x));
    }
    search.root()
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

    /// Straight, bent, steep, flat about the root, a jump and a root at 0, from either side: near the root, in few looks
    /// where f is smooth.
    #[test]
    fn few_looks_are_enough() {
        use crate::maths::{exp, exp_m1};
        use std::cell::Cell;
        type Case = (fn(f64) -> f64, f64, f64, f64, u32);
        let cases: [Case; 7] = [
            (|x| x - 0.3, -1.0, 1.0, 0.3, 5),
            (|x| exp(x) - 0.7, -1.0, 1.0, -0.356_674_943_938_732_4, 9),
            (
                |x| 0.3 * exp(x) - 1.6,
                -60.0,
                60.0,
                1.673_976_433_571_671_5,
                20,
            ),
            (|x| x / (1.0 + x.abs()) - 0.8, 0.0, 9.0, 4.0, 13),
            (|x| (x - 2.0) * (x - 2.0) * (x - 2.0), 0.0, 5.0, 2.0, 90),
            (|x| if x < 0.7 { -1.0 } else { 1.0 }, 0.0, 1.0, 0.7, 60),
            (|x| exp_m1(x), -1.0, 2.0, 0.0, 20),
        ];
        for (i, &(f, low, high, root, most)) in cases.iter().enumerate() {
            for (from, to) in [(low, high), (high, low)] {
                let looks = Cell::new(0);
                let x = bracketed(
                    |x| {
                        looks.set(looks.get() + 1);
                        f(x)
                    },
                    from,
                    to,
                    1e-10,
                );
                // A triple root is flat beyond what can be told apart.
                let within = if i == 4 {
                    1e-5
                } else {
                    1e-10 * root.abs() + 1e-15
                };
                assert!((x - root).abs() <= within, "{i}: {x}");
                assert!(looks.get() <= most, "{i}: {} looks", looks.get());
            }
        }
    }

    #[test]
    fn without_a_change_of_sign_the_nearer_end() {
        assert_eq!(bracketed(|x| x + 1.0, 0.0, 5.0, 1e-12), 0.0);
    }
}
