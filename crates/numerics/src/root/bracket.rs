//! The search for a root between two places, each value of f told from outside.

/// Most steps of a search.
const MOST_STEPS: u32 = 200;

/// A search for the root of f between two places where it differs in sign, by Chandrupatla's method (1997, Adv. Eng.
/// Software 28:145): inverse quadratic interpolation where it can be relied on, halving otherwise. For whoever must not
/// work out all values of f at once; [`super::bracketed`] does.
#[derive(Clone, Debug)]
pub struct Bracket {
    /// The latest place and its value; the root lies between it and `far`.
    near: (f64, f64),
    far: (f64, f64),
    tolerance: f64,
    /// The next place, as a share of the way from `near` to `far`.
    share: f64,
    asked: f64,
    steps: u32,
    /// The place with the smallest |f| of those about the root.
    best: f64,
    found: bool,
}

/// The one with the smaller |f|.
fn smaller(a: (f64, f64), b: (f64, f64)) -> (f64, f64) {
    if a.1.abs() < b.1.abs() { a } else { b }
}

impl Bracket {
    /// Between two places with their values of f, until the root is known to within `tolerance` times its size. If f has
    /// one sign at both, the one with the smaller |f| is what is found.
    pub fn new(low: (f64, f64), high: (f64, f64), tolerance: f64) -> Self {
        let (best, least) = smaller(high, low);
        Self {
            near: high,
            far: low,
            tolerance,
            share: 0.5,
            asked: best,
            steps: 0,
            best,
            found: least == 0.0 || (low.1 > 0.0) == (high.1 > 0.0),
        }
    }

    /// Where f is wanted next; `None` when the root is found.
    pub fn ask(&mut self) -> Option<f64> {
        if self.found || self.steps >= MOST_STEPS {
            return None;
        }
        self.steps += 1;
        self.asked = self.near.0 + self.share * (self.far.0 - self.near.0);
        Some(self.asked)
    }

    /// The value of f there.
    pub fn tell(&mut self, value: f64) {
        // Of the three places the one that is no longer about the root.
        let (c, fc);
        if (value > 0.0) == (self.near.1 > 0.0) {
            (c, fc) = self.near;
        } else {
            (c, fc) = self.far;
            self.far = self.near;
        }
        self.near = (self.asked, value);
        let ((a, fa), (b, fb)) = (self.near, self.far);
        let least;
        (self.best, least) = smaller(self.near, self.far);
        let close = self.tolerance * self.best.abs() / (b - a).abs();
        if least == 0.0 || close > 0.5 || a == b {
            self.found = true;
            return;
        }
        let place = (a - b) / (c - b);
        let height = (fa - fb) / (fc - fb);
        let smooth = height * height < place && (1.0 - height) * (1.0 - height) < 1.0 - place;
        let share = if smooth {
            fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb)
        } else {
            0.5
        };
        self.share = share.clamp(close, 1.0 - close);
    }

    /// The root as far as it is known.
    pub fn root(&self) -> f64 {
        self.best
    }
}
