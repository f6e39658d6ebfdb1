//! Many gamma draws of one shape: rejection from a hat made of strips of equal area.
//!
//! For a shape a of 1 or more the density x^(a-1) e^-x rises to its mode at a - 1 and falls from there. The hat is
//! a step on each strip, as high as the density at the strip's end nearer the mode, and an exponential beyond the last
//! strip; all pieces have the same area, so that one uniform chooses the piece and the place in it, and rises with the
//! draw: two shapes that are fed the same numbers stay close to each other. A draw is taken unseen where it falls
//! below the density's least value on the strip (19 of 20 draws), otherwise the density itself decides, so that the
//! law is exact. (Strips of equal area: Marsaglia & Tsang 2000, J. Stat. Softw. 5(8), laid on their side; Ahrens 1995,
//! Computing 54:145-157.) Shapes below 1 by the boost gamma(a) = gamma(a + 1) U^(1/a).

use crate::maths::{exp, ln, ln_1p, ln_gamma, pow};
use crate::random::{Stream, unit};

/// About how many strips.
const STRIPS: f64 = 256.0;
/// Bits of a number left over from its uniform: how finely the unseen share of a strip is known.
const LOW: u64 = 1 << 11;

#[derive(Clone, Copy, Debug)]
struct Strip {
    left: f64,
    width: f64,
    /// Draws with low bits under this are taken unseen.
    unseen: u64,
}

/// Draws gamma numbers of one shape and scale 1.
#[derive(Clone, Debug)]
pub struct GammaTable {
    /// One less than the shape that the strips are made for.
    power: f64,
    /// Logarithm of the density at the mode, which is taken for 1.
    top: f64,
    strips: Vec<Strip>,
    /// Logarithm of the hat over each strip.
    hat: Vec<f64>,
    pieces: f64,
    /// Where the last strip ends, how fast the tail falls and its share of a piece's area.
    end: f64,
    rate: f64,
    share: f64,
    /// 1 over the shape when that is below 1.
    boost: Option<f64>,
}

impl GammaTable {
    /// A table for a shape above 0.
    pub fn new(shape: f64) -> Self {
        let boost = (shape < 1.0).then(|| 1.0 / shape);
        let power = if shape < 1.0 { shape } else { shape - 1.0 };
        let ln_density = |x: f64| {
            if x > 0.0 {
                power * ln(x) - x
            } else if power > 0.0 {
                f64::NEG_INFINITY
            } else {
                0.0
            }
        };
        let top = ln_density(power);
        let density = |x: f64| exp(ln_density(x) - top);
        let area = exp(ln_gamma(power + 1.0) - top) / STRIPS;
        let strip = |left: f64, right: f64, high: f64, low: f64| {
            let unseen = (low / high * LOW as f64 * (1.0 - 1e-12)) as u64;
            (
                Strip {
                    left,
                    width: right - left,
                    unseen,
                },
                ln(high),
            )
        };
        let mut rising = Vec::new();
        let (mut x, mut high) = (power, 1.0);
        while x > 0.0 {
            let next = x - area / high;
            let low = if next > 0.0 { density(next) } else { 0.0 };
            rising.push(strip(next, x, high, low));
            (x, high) = (next, low);
        }
        let mut all: Vec<(Strip, f64)> = rising.into_iter().rev().collect();
        let (mut x, mut high) = (power, 1.0);
        let rate = |x: f64| 1.0 - power / x;
        while x <= power || high / rate(x) > area {
            let next = x + area / high;
            let low = density(next);
            all.push(strip(x, next, high, low));
            (x, high) = (next, low);
        }
        let (strips, hat): (Vec<_>, Vec<_>) = all.into_iter().unzip();
        Self {
            power,
            top,
            pieces: (strips.len() + 1) as f64,
            strips,
            hat,
            end: x,
            rate: rate(x),
            share: high / rate(x) / area,
            boost,
        }
    }

    /// A gamma number: mean and variance are both the shape.
    #[inline]
    pub fn draw(&self, stream: &mut Stream) -> f64 {
        let bits = stream.bits();
        let place = unit(bits) * self.pieces;
        let piece = place as usize;
        if let Some(strip) = self.strips.get(piece)
            && bits % LOW < strip.unseen
            && self.boost.is_none()
        {
            return strip.left + (place - piece as f64) * strip.width;
        }
        self.seen(stream, bits)
    }

    /// As [`GammaTable::draw`], from these bits, where one look does not do.
    #[inline(never)]
    fn seen(&self, stream: &mut Stream, bits: u64) -> f64 {
        let mut bits = bits;
        let x = loop {
            if let Some(x) = self.accept(stream, bits) {
                break x;
            }
            bits = stream.bits();
        };
        match self.boost {
            None => x,
            Some(power) => x * pow(stream.uniform(), power),
        }
    }

    fn accept(&self, stream: &mut Stream, bits: u64) -> Option<f64> {
        let place = unit(bits) * self.pieces;
        let piece = place as usize;
        let within = place - piece as f64;
        let low = bits % LOW;
        let (x, ln_hat) = match (self.strips.get(piece), self.hat.get(piece)) {
            (Some(strip), Some(&ln_hat)) => {
                let x = strip.left + within * strip.width;
                if low < strip.unseen {
                    return Some(x);
                }
                (x, ln_hat)
            }
            _ => {
                let within = within / self.share;
                if within >= 1.0 {
                    return None;
                }
                let beyond = -ln_1p(-within);
                let ln_end = self.power * ln(self.end) - self.end - self.top;
                (self.end + beyond / self.rate, ln_end - beyond)
            }
        };
        if x <= 0.0 {
            return None;
        }
        let height = (low as f64 + stream.uniform()) / LOW as f64;
        let below = ln(height) + ln_hat <= self.power * ln(x) - x - self.top;
        below.then_some(x)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draws::gamma;

    /// Distribution function by its series (Abramowitz & Stegun 1964, 6.5.29).
    fn lower(shape: f64, x: f64) -> f64 {
        let first = exp(shape * ln(x) - x - ln_gamma(shape + 1.0));
        let (mut term, mut sum) = (first, first);
        let mut n = 1.0;
        while term > 1e-17 * sum {
            term *= x / (shape + n);
            sum += term;
            n += 1.0;
        }
        sum
    }

    /// The share of draws below each of many points against the distribution function, by Kolmogorov's distance
    /// (critical value 2.23/sqrt(n) for a false alarm in 10,000), and the mean of the far tail's excess.
    #[test]
    fn draws_have_their_law() {
        for (i, shape) in [0.07, 0.5, 1.0, 1.001, 1.7, 4.0, 37.0, 900.0]
            .into_iter()
            .enumerate()
        {
            let table = GammaTable::new(shape);
            let mut s = Stream::new(23, i as u64);
            let n = 200_000;
            let mut draws: Vec<f64> = (0..n).map(|_| table.draw(&mut s)).collect();
            draws.sort_by(f64::total_cmp);
            let worst = draws.iter().enumerate().fold(0.0, |worst, (i, &x)| {
                let p = lower(shape, x);
                let off = (p - (i as f64 + 0.5) / f64::from(n)).abs();
                f64::max(worst, off)
            });
            let most = 2.23 / f64::from(n).sqrt();
            assert!(worst < most, "{shape}: {worst} {most}");
        }
    }

    /// The far tail, beyond the last strip: of 3 million draws as many as belong there.
    #[test]
    fn the_tail_has_its_share() {
        for shape in [1.0, 2.0, 11.0] {
            let table = GammaTable::new(shape);
            let mut s = Stream::new(5, 1);
            let n = 3_000_000;
            let points = [table.end, table.end + 2.0, table.end + 5.0];
            let mut beyond = [0.0; 3];
            for _ in 0..n {
                let x = table.draw(&mut s);
                for (b, p) in beyond.iter_mut().zip(points) {
                    *b += f64::from(u8::from(x > p));
                }
            }
            for (b, p) in beyond.iter().zip(points) {
                let want = f64::from(n) * (1.0 - lower(shape, p));
                assert!(
                    (b - want).abs() < 4.5 * want.sqrt(),
                    "{shape} {p}: {b} {want}"
                );
            }
        }
    }

    /// Fed the same numbers, two shapes near each other give draws near each other.
    #[test]
    fn shapes_share_their_luck() {
        let (a, b) = (GammaTable::new(6.0), GammaTable::new(8.0));
        let (mut x, mut y) = (Vec::new(), Vec::new());
        for i in 0..20_000 {
            let mut s = Stream::new(2, i);
            x.push(a.draw(&mut s));
            let mut s = Stream::new(2, i);
            y.push(b.draw(&mut s));
        }
        let n = x.len() as f64;
        let mean = |v: &[f64]| v.iter().sum::<f64>() / n;
        let (mx, my) = (mean(&x), mean(&y));
        let cross = |u: &[f64], mu: f64, v: &[f64], mv: f64| {
            u.iter()
                .zip(v)
                .map(|(a, b)| (a - mu) * (b - mv))
                .sum::<f64>()
        };
        let r = cross(&x, mx, &y, my) / (cross(&x, mx, &x, mx) * cross(&y, my, &y, my)).sqrt();
        assert!(r > 0.95, "{r}");
    }

    /// Draws and the usual generator's have the same mean where the mean of the counts hangs on it.
    #[test]
    fn agrees_with_the_single_draw() {
        let table = GammaTable::new(2.5);
        let (mut s, mut t) = (Stream::new(8, 0), Stream::new(8, 1));
        let n = 200_000;
        let a = (0..n).map(|_| table.draw(&mut s)).sum::<f64>() / f64::from(n);
        let b = (0..n).map(|_| gamma(&mut t, 2.5)).sum::<f64>() / f64::from(n);
        assert!((a - b).abs() < 4.5 * (2.0 * 2.5 / f64::from(n)).sqrt());
    }
}
