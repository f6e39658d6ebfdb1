//! Where a search begins: the effects of sites and years from their own totals, shrunk as if each were alone, and
//! standard deviations and dispersion nearer to those of the counts at hand than the ones given.
//!
//! A unit of which y animals were counted where m were expected has the log ratio r = ln((y + 1/2)/(m + 1/2)), of
//! variance about s^2 + 1/w, with w the weight of its rows. One step of Fisher's scoring for s^2 from the given one,
//! had they a normal law, is nearly all of the way to the optimum; likewise for 1/k from the squared residuals
//! (their expectation is m + m^2/k). It is a start and no more: the likelihood decides.

use super::family::{Family, Law};
use super::layout::Layout;
use super::start::Start;
use super::state::{Scales, State};
use numerics::maths::{exp, ln, slices};

/// A standard deviation and a dispersion are moved by no more than this factor.
const MOST: f64 = 3.0;
/// Fewer units than this tell nothing of their spread beyond the given one.
const FEWEST: usize = 4;

/// Counted and expected in all of one unit's rows, weighed.
#[derive(Clone, Copy, Debug, Default)]
struct Unit {
    y: f64,
    w: f64,
}

impl Unit {
    /// A row with the mean `m`, so many more times `effect`; it counts the less the more it scatters beyond Poisson's
    /// law.
    fn add(&mut self, y: f64, m: f64, k: f64) {
        let share = 1.0 / (1.0 + m / k);
        self.y += share * y;
        self.w += share * m;
    }

    fn log_ratio(&self) -> f64 {
        ln((self.y + 0.5) / (self.w + 0.5))
    }

    /// Its effect in units of the standard deviation `s`, shrunk as if it were alone.
    fn effect(&self, s: f64) -> f64 {
        s * self.w * self.log_ratio() / (1.0 + s * s * self.w)
    }
}

/// The standard deviation of units after one step from `s`: about their mean, and about a line through their numbers
/// if `trend`.
fn nearer_sd(units: &[Unit], s: f64, trend: bool) -> f64 {
    let n = units.len();
    if n < FEWEST || s == 0.0 {
        return s;
    }
    let r: Vec<f64> = units.iter().map(Unit::log_ratio).collect();
    let count = n as f64;
    let mean = r.iter().sum::<f64>() / count;
    let middle = 0.5 * (count - 1.0);
    let (mut along, mut length) = (0.0, 0.0);
    for (i, r) in r.iter().enumerate() {
        let t = i as f64 - middle;
        along += t * r;
        length += t * t;
    }
    let (slope, lost) = if trend {
        (along / length, 2.0)
    } else {
        (0.0, 1.0)
    };
    let (mut score, mut information) = (0.0, 0.0);
    for (i, (r, unit)) in r.iter().zip(units).enumerate() {
        let variance = s * s + 1.0 / unit.w.max(1e-3);
        let off = r - mean - slope * (i as f64 - middle);
        let square = off * off * count / (count - lost);
        score += (square - variance) / (variance * variance);
        information += 1.0 / (variance * variance);
    }
    bounded((s * s + score / information).max(0.0).sqrt(), s)
}

/// `value`, no further from `given` than [`MOST`] times.
fn bounded(value: f64, given: f64) -> f64 {
    value.clamp(given / MOST, given * MOST)
}

impl State {
    /// Puts the effects of sites and years near their mode for counts that may be as `start` says, or, if `nearer`,
    /// for their own spread, and gives the start that belongs to them. The fixed effects have been put.
    pub(super) fn guess(
        &mut self,
        layout: &Layout,
        family: Family,
        start: &Start,
        scales: Scales,
        nearer: bool,
    ) -> Start {
        let mut start = start.clone();
        if family == Family::Binomial {
            return start;
        }
        let k = if family == Family::Poisson {
            f64::INFINITY
        } else {
            start.k
        };
        self.scales = scales;
        self.beta.copy_from_slice(&start.beta);
        self.predict(layout, false);
        Law { family, k }.means(&self.eta, &mut self.mean);
        // Where site-years have effects of their own, these are part of the scatter.
        let nearer = nearer && !self.has_cells && k > 0.0;
        let sites: Vec<Unit> = (0..layout.sites.len())
            .map(|site| {
                let mut unit = Unit::default();
                for i in layout.rows_of(site) {
                    unit.add(self.y[i], self.mean[i], k);
                }
                unit
            })
            .collect();
        if nearer && scales.site > 0.0 {
            self.scales.site = nearer_sd(&sites, scales.site, false);
            start.site_sd = self.scales.site;
        }
        let mut years = vec![Unit::default(); self.years];
        for (site, unit) in sites.iter().enumerate() {
            self.z.site[site] = unit.effect(self.scales.site);
            let effect = exp(self.scales.site * self.z.site[site]);
            for i in layout.rows_of(site) {
                self.mean[i] *= effect;
                if let Some(year) = years.get_mut(layout.kinds.year[layout.kinds.of[i]]) {
                    year.add(self.y[i], self.mean[i], k);
                }
            }
        }
        if nearer && scales.year > 0.0 {
            self.scales.year = nearer_sd(&years, scales.year, true);
            start.year_sd = self.scales.year;
        }
        for (z, unit) in self.z.dense.iter_mut().zip(&years) {
            *z = unit.effect(self.scales.year);
        }
        if nearer && family == Family::NegativeBinomial {
            start.k = self.nearer_k(layout, k);
        }
        start
    }

    /// The dispersion after one step from `k`, the means being those without the years' effects.
    fn nearer_k(&mut self, layout: &Layout, k: f64) -> f64 {
        let effects: Vec<f64> = self.z.dense[..self.years]
            .iter()
            .map(|z| exp(self.scales.year * z))
            .collect();
        let (rows, fitted) = (self.y.len(), self.z.site.len() + self.years);
        if rows < fitted + FEWEST {
            return k;
        }
        let share = rows as f64 / (rows - fitted) as f64;
        let of = self.y.iter().zip(&layout.kinds.of);
        for ((ratio, m), (y, &kind)) in self.terms.iter_mut().zip(&mut self.mean).zip(of) {
            *m *= effects.get(layout.kinds.year[kind]).unwrap_or(&1.0);
            *ratio = (y + 0.5) / (*m + 0.5);
        }
        self.rho.copy_from_slice(&self.terms);
        slices::ln(&mut self.rho);
        let (mut score, mut information) = (0.0, 0.0);
        for ((ratio, log), m) in self.terms.iter().zip(&self.rho).zip(&self.mean) {
            let by_count = 1.0 / (m + 0.5);
            let variance = by_count + 1.0 / k;
            let square = 1.0 / (variance * variance);
            score += (share * 2.0 * (ratio - 1.0 - log) - variance) * square;
            information += square;
        }
        let spread = 1.0 / k + score / information;
        if spread.is_finite() {
            1.0 / bounded(spread.max(0.0), 1.0 / k)
        } else {
            k
        }
    }
}
