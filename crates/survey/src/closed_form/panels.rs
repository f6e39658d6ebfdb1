//! Plans in which not every site is visited in every year, or sites drop out: generalised least squares.
//!
//! With n sites of a kind (visited in the same years, treated or not), the covariance of the log totals of sites i, i' in
//! years j, j' is d_ii' s2_site + d_jj' s2_year + d_ii' d_jj' v, v the scatter of a site-year as for sites visited every
//! year (Urquhart, Paulsen & Larsen 1998, Ecol. Appl. 8:246; Urquhart & Kincaid 1999, J. Agric. Biol. Environ. Stat.
//! 4:404; Larsen et al. 2001, BioScience 51:1069). Sites no longer drop out of a trend: where they change from year to
//! year their differences add to it. Sites that drop out are taken as so many expected sites of a kind that is visited up
//! to some year. Departures that the analysis does not know of are the estimate's form in the true covariance.

use super::kept::{Scatter, scatter};
use super::removal;
use super::space::mean_correlation;
use super::{Variances, serial};
use crate::evaluate::Covariates;
use crate::generator::{Response, World, pairs};
use crate::scenario::{Checked, Effect, Known, Plan, TrapPoints};
use models::estimator::estimator_of_kinds;
use models::information::covariance_of_kinds;
use models::wald::ratio_minus_half;
use numerics::maths::{exp, exp_m1, ln_1p, pow};
use std::collections::BTreeMap;

/// Whether a plan's variances are worked out here.
pub fn applies(scenario: &Checked, plan: &Plan) -> bool {
    !plan.all_every_year() || scenario.premises.attrition.value > 0.0
}

/// For each site and year (`site * years + year`): the chance that the site is visited; empty when all surely are.
pub fn presence(scenario: &Checked, plan: &Plan) -> Vec<f64> {
    if !applies(scenario, plan) {
        return Vec::new();
    }
    let stays = 1.0 - scenario.premises.attrition.value;
    let years = plan.years as usize;
    let mut out = vec![0.0; plan.sites as usize * years];
    for (visited, out) in visits(plan)
        .chunks_exact(years)
        .zip(out.chunks_exact_mut(years))
    {
        let first = visited.iter().position(|v| *v).unwrap_or(0);
        for (y, out) in out.iter_mut().enumerate().filter(|(y, _)| visited[*y]) {
            *out = pow(stays, (y - first) as f64);
        }
    }
    out
}

fn visits(plan: &Plan) -> Vec<bool> {
    let made = plan.visits_made();
    if made.is_empty() {
        vec![true; (plan.sites * plan.years) as usize]
    } else {
        made
    }
}

/// Expected number of sites visited both in year y and in year z (`y * years + z`), once for each year on the diagonal.
pub fn visited_in_both(scenario: &Checked, plan: &Plan) -> Vec<f64> {
    let years = plan.years as usize;
    let mut out = vec![0.0; years * years];
    for kind in Kinds::of(scenario, plan, false).kinds {
        for (y, _) in kind.visited.iter().enumerate().filter(|(_, v)| **v) {
            for (z, _) in kind.visited.iter().enumerate().filter(|(_, v)| **v) {
                out[y * years + z] += kind.number;
            }
        }
    }
    out
}

/// What site-years leave of degrees of freedom after years and sites: those of sites that come back, N - S - T + 1; where
/// none does, sites are part of the scatter and it is N - T.
pub fn within_degrees(scenario: &Checked, plan: &Plan) -> f64 {
    let turns = f64::from(plan.turns());
    if !applies(scenario, plan) {
        return (f64::from(plan.sites) - 1.0) * (turns - 1.0);
    }
    let (mut rows, mut sites, mut all) = (0.0, 0.0, 0.0);
    for kind in Kinds::of(scenario, plan, false).kinds {
        let visits = kind.visited.iter().filter(|v| **v).count() as f64;
        all += kind.number * visits;
        if visits > 1.0 {
            rows += kind.number * visits;
            sites += kind.number;
        }
    }
    let left = if sites > 0.0 {
        rows - sites - turns + 1.0
    } else {
        all - turns
    };
    left.max(1.0)
}

/// Sites that are visited in the same years and alike in all that is asked about.
struct Kind {
    /// How many are expected.
    number: f64,
    visited: Vec<bool>,
    /// One of them, for its covariates and response.
    site: usize,
}

struct Kinds {
    kinds: Vec<Kind>,
}

impl Kinds {
    /// The kinds of a plan; `placed` when every site has a place of its own.
    fn of(scenario: &Checked, plan: &Plan, placed: bool) -> Self {
        let years = plan.years as usize;
        let stays = 1.0 - scenario.premises.attrition.value;
        let mut known: BTreeMap<(Vec<bool>, bool, usize), (f64, usize)> = BTreeMap::new();
        for (s, visited) in visits(plan).chunks_exact(years).enumerate() {
            let treats = plan.groups.as_ref().is_some_and(|g| g.treats(s as u32));
            let own = if placed { s } else { 0 };
            let entry = known.entry((visited.to_vec(), treats, own));
            entry.or_insert((0.0, s)).0 += 1.0;
        }
        let mut kinds = Vec::new();
        for ((visited, _, _), (number, site)) in known {
            let turns: Vec<usize> = (0..years).filter(|&y| visited[y]).collect();
            if stays >= 1.0 {
                kinds.push(Kind {
                    number,
                    visited,
                    site,
                });
                continue;
            }
            let there = |turn: usize| pow(stays, (turns[turn] - turns[0]) as f64);
            for last in 0..turns.len() {
                let after = if last + 1 < turns.len() {
                    there(last + 1)
                } else {
                    0.0
                };
                let share = there(last) - after;
                if share > 0.0 {
                    kinds.push(Kind {
                        number: number * share,
                        visited: (0..years).map(|y| visited[y] && y <= turns[last]).collect(),
                        site,
                    });
                }
            }
        }
        Self { kinds }
    }

    /// Mean over kinds of a number of the years a site is visited in.
    fn mean(&self, of: impl Fn(&[usize]) -> f64) -> f64 {
        let (mut sum, mut all) = (0.0, 0.0);
        for kind in &self.kinds {
            let years: Vec<usize> = (0..kind.visited.len())
                .filter(|&y| kind.visited[y])
                .collect();
            sum += kind.number * of(&years);
            all += kind.number;
        }
        sum / all
    }
}

/// The response of a plan when the effect has this value on the estimate's scale.
fn response_at(scenario: &Checked, plan: &Plan, value: f64) -> impl Fn(usize, usize) -> f64 {
    let truth = super::truth(scenario);
    let response = Response::of(scenario, plan);
    let effect = &scenario.question.effect;
    let optimum = match effect {
        Effect::RangeShift(_) => scenario.moving(plan.years),
        _ => None,
    };
    let positions = crate::generator::positions(scenario, plan);
    let margin = match effect {
        // The margin moves, not the catch.
        Effect::NoWorse(n) => Some(n.true_slope()),
        Effect::Decline(_) => Some(value),
        _ => None,
    };
    move |s, y| match (&optimum, margin) {
        (Some(g), _) => {
            let d = (positions[s] - g.first - value / 10.0 * y as f64) / g.width;
            -0.5 * d * d
        }
        (_, Some(slope)) => slope * y as f64,
        // Of two groups the log ratio acts or does not.
        _ => response.log(s, y, World::Change) / truth * value,
    }
}

/// All that generalised least squares takes.
struct System {
    kinds: Kinds,
    numbers: Vec<f64>,
    x: Vec<f64>,
    columns: usize,
    years: usize,
}

impl System {
    fn covariance(&self, w: &[f64], site: f64, year: f64) -> Option<Vec<f64>> {
        let (site_sd, year_sd) = (site.sqrt(), year.sqrt());
        covariance_of_kinds(
            &self.numbers,
            w,
            &self.x,
            self.columns,
            self.years,
            site_sd,
            year_sd,
        )
    }

    fn estimator(&self, w: &[f64], site: f64, year: f64) -> Option<Vec<f64>> {
        let (site_sd, year_sd) = (site.sqrt(), year.sqrt());
        estimator_of_kinds(
            &self.numbers,
            w,
            &self.x,
            self.columns,
            self.years,
            site_sd,
            year_sd,
        )
    }
}

/// Variances that are true, by kind of effect.
struct Parts {
    site: f64,
    own: f64,
    year: f64,
    weeks: f64,
    slopes: f64,
    autocorrelation: f64,
    /// Mean correlation of two different sites.
    alike: f64,
}

/// The variances when the change has this value on the estimate's scale.
pub fn variances(scenario: &Checked, plan: &Plan, value: f64) -> Variances {
    let scatter = scatter(scenario, plan);
    OfSites::new(scenario, plan, value).variances(scenario, plan, &scatter)
}

/// What hangs on sites and years alone of plans that differ in traps and weeks too.
pub(super) struct OfSites {
    value: f64,
    covariates: Covariates,
    system: System,
    /// Log of what response and drift leave of the catch: by kinds, then years.
    log: Vec<f64>,
    /// What the sites of a pair do not share.
    apart: f64,
    /// Mean correlation of two different sites.
    alike: f64,
}

impl OfSites {
    /// Of plans with the sites and years of this one, when the change has this value on the estimate's scale.
    pub fn new(scenario: &Checked, plan: &Plan, value: f64) -> Self {
        let covariates = Covariates::of_site_years(scenario, plan);
        let (years, columns) = (plan.years as usize, covariates.columns);
        let gradient = matches!(scenario.question.effect, Effect::RangeShift(_));
        let kinds = Kinds::of(scenario, plan, gradient);
        let of = response_at(scenario, plan, value);
        let drift = scenario.premises.departures.log_drift();
        let each = kinds.kinds.iter();
        let log = each.flat_map(|kind| {
            (0..years)
                .map(|y| drift * y as f64 + of(kind.site, y))
                .collect::<Vec<_>>()
        });
        let log = log.collect();
        let wide = columns * years;
        let x = kinds.kinds.iter();
        let n = f64::from(plan.sites);
        Self {
            value,
            log,
            apart: 1.0 - pairs(scenario, plan).unwrap_or(0.0),
            alike: (n * mean_correlation(scenario, plan) - 1.0) / (n - 1.0).max(1.0),
            system: System {
                x: x.flat_map(|k| covariates.x[k.site * wide..(k.site + 1) * wide].to_vec())
                    .collect(),
                numbers: kinds.kinds.iter().map(|k| k.number).collect(),
                columns,
                years,
                kinds,
            },
            covariates,
        }
    }

    /// The variances of a plan with these sites and years, whose totals scatter so.
    pub fn variances(&self, scenario: &Checked, plan: &Plan, scatter: &Scatter) -> Variances {
        of_plan(self, scenario, plan, scatter)
    }
}

fn of_plan(sites: &OfSites, scenario: &Checked, plan: &Plan, scatter: &Scatter) -> Variances {
    let never = Variances::same(f64::INFINITY);
    let (t, d) = (&scenario.premises.target, &scenario.premises.departures);
    let square = |v: f64| v * v;
    let (covariates, system, value) = (&sites.covariates, &sites.system, sites.value);
    let years = system.years;
    let points = if plan.trap_points == TrapPoints::Same {
        ln_1p(exp_m1(square(t.trap_sd.value)) / f64::from(plan.traps_per_site))
    } else {
        0.0
    };
    let parts = Parts {
        site: square(t.site_sd.value) * sites.apart + points,
        own: square(t.site_year_sd.value) * sites.apart,
        year: square(t.year_sd.value),
        weeks: scatter.weeks,
        slopes: square(d.site_slope_sd.value),
        autocorrelation: d.year_autocorrelation.value,
        alike: sites.alike,
    };
    // Where traps take from one year for the next, counts are thinner; by the mean over the sites of a year.
    let fewer = removal::thinner(scenario, plan);
    let common = parts.own + scatter.points + scatter.dispersion;
    let weights = |more: f64| -> Vec<f64> {
        let mut out = Vec::with_capacity(system.kinds.kinds.len() * years);
        let logs = sites.log.chunks_exact(years);
        for (kind, log) in system.kinds.kinds.iter().zip(logs) {
            for y in 0..years {
                let response = exp(log[y]) / fewer.as_ref().map_or(1.0, |f| f[y]);
                out.push(if kind.visited[y] && response > 1e-200 {
                    scatter.seen / (common + more + scatter.inverse_mean / response)
                } else {
                    0.0
                });
            }
        }
        out
    };
    let plain = weights(0.0);
    let year = parts.year + parts.weeks;
    let Some(c) = system.covariance(&plain, parts.site, year) else {
        return never;
    };
    let of = |c: &[f64]| estimate_variance(scenario, plan, covariates, value, c);
    let trend = scenario.question.effect.is_trend();
    let floor = |w: &[f64]| {
        let floor = trend.then(|| system.covariance(w, parts.site, 0.0));
        floor.flatten().map_or(0.0, |c| of(&c))
    };
    if d.is_empty() {
        return Variances {
            floor: floor(&plain),
            ..Variances::same(of(&c))
        };
    }
    let Some(h) = system.estimator(&plain, parts.site, year) else {
        return never;
    };
    let more = departing(system, &h, &parts);
    let truth: Vec<f64> = c.iter().zip(&more).map(|(c, m)| c + m).collect();
    let truth = of(&truth);
    let told = |k| scenario.analysis.knows.contains(&k);
    let serially = told(Known::YearAutocorrelation) || parts.autocorrelation == 0.0;
    let in_space = told(Known::SiteCorrelation) || parts.alike == 0.0 || trend;
    if serially && in_space && (told(Known::SiteSlopes) || parts.slopes == 0.0) {
        return Variances {
            floor: floor(&plain),
            ..Variances::same(truth)
        };
    }
    // Sites' own changes look like scatter of sites, by the middle of their years, and of site-years about it.
    let middle = |of: &[usize]| of.iter().sum::<usize>() as f64 / of.len().max(1) as f64;
    let between = parts.slopes * system.kinds.mean(|of| square(middle(of)));
    let within = parts.slopes
        * system.kinds.mean(|of| {
            let mid = middle(of);
            let sum: f64 = of.iter().map(|&y| square(y as f64 - mid)).sum();
            sum / (of.len() as f64 - 1.0).max(1.0)
        });
    let seen = weights(within);
    let residual = residual(&plan.years_of_trapping(), parts.autocorrelation);
    let believed = if trend {
        // Between years what all sites have in common is seen, and never less than sites by themselves scatter.
        let year = parts.year * residual + parts.weeks + parts.own * parts.alike;
        let c = system.covariance(&plain, parts.site, year);
        c.map_or(f64::INFINITY, |c| of(&c).max(floor(&seen)))
    } else {
        let c = system.covariance(&seen, parts.site + between, year);
        c.map_or(f64::INFINITY, |c| of(&c))
    };
    Variances {
        truth,
        believed,
        floor: floor(&seen),
    }
}

/// Variance of the estimate from the covariance of the coefficients, row-major.
fn estimate_variance(
    scenario: &Checked,
    plan: &Plan,
    covariates: &Covariates,
    value: f64,
    c: &[f64],
) -> f64 {
    let p = covariates.columns;
    let at = |i: usize, j: usize| c[i * p + j];
    let moving = match scenario.question.effect {
        Effect::RangeShift(_) => scenario.moving(plan.years),
        _ => None,
    };
    let Some(g) = moving else {
        return at(covariates.change, covariates.change);
    };
    // As for sites visited every year: b_xx = -scale^2 / (2 tolerance^2), and the shift a year is -b_xt/(2 b_xx).
    let relative = covariates.scale / g.width;
    let b_xx = -0.5 * relative * relative;
    let b_xt = -2.0 * b_xx * (value / 10.0) / covariates.scale;
    let (_, se) = ratio_minus_half(b_xt, b_xx, at(4, 4), at(2, 2), at(2, 4));
    let se = 10.0 * covariates.scale * se;
    se * se
}

/// What departures add to the covariance of the coefficients, whose forms are `h` (columns by rows of one site of each
/// kind).
fn departing(system: &System, h: &[f64], parts: &Parts) -> Vec<f64> {
    let (p, years) = (system.columns, system.years);
    let rows = system.numbers.len() * years;
    let form = |j: usize| &h[j * rows..(j + 1) * rows];
    let sums = |j: usize, of: &dyn Fn(usize, f64) -> f64| -> Vec<f64> {
        let sites = form(j).chunks_exact(years);
        sites
            .map(|own| own.iter().enumerate().map(|(y, h)| of(y, *h)).sum())
            .collect()
    };
    let each =
        |of: &dyn Fn(usize, f64) -> f64| -> Vec<Vec<f64>> { (0..p).map(|j| sums(j, of)).collect() };
    let (site, slope) = (each(&|_, h| h), each(&|y, h| y as f64 * h));
    let of_year: Vec<Vec<f64>> = (0..p)
        .map(|j| {
            let mut out = vec![0.0; years];
            for (own, number) in form(j).chunks_exact(years).zip(&system.numbers) {
                out.iter_mut().zip(own).for_each(|(o, h)| *o += number * h);
            }
            out
        })
        .collect();
    let numbers = &system.numbers;
    // The sum over sites of the products of two forms, and that over pairs of different sites.
    let over = |a: &[f64], b: &[f64]| -> (f64, f64) {
        let total = |v: &[f64]| v.iter().zip(numbers).map(|(v, n)| n * v).sum::<f64>();
        let same: f64 = a
            .iter()
            .zip(b)
            .zip(numbers)
            .map(|((a, b), n)| n * a * b)
            .sum();
        (same, total(a) * total(b) - same)
    };
    let mut out = vec![0.0; p * p];
    for i in 0..p {
        for j in 0..p {
            let (same, others) = over(&slope[i], &slope[j]);
            let mut sum = parts.slopes * (same + parts.alike * others);
            sum +=
                parts.year * serial::off_diagonal(parts.autocorrelation, &of_year[i], &of_year[j]);
            if parts.alike != 0.0 {
                sum += parts.site * parts.alike * over(&site[i], &site[j]).1;
                for y in 0..years {
                    let column = |j: usize| -> Vec<f64> {
                        form(j).iter().skip(y).step_by(years).copied().collect()
                    };
                    sum += parts.own * parts.alike * over(&column(i), &column(j)).1;
                }
            }
            out[i * p + j] = sum;
        }
    }
    out
}

/// Expected residual mean square about the line through these years of effects with correlation r^|i - j| and variance
/// 1: tr((I - H) R)/(T - 2).
fn residual(years: &[u32], r: f64) -> f64 {
    let n = years.len() as f64;
    if n < 3.0 {
        return 1.0;
    }
    let mid = years.iter().map(|&y| f64::from(y)).sum::<f64>() / n;
    let at = |i: usize| f64::from(years[i]) - mid;
    let spread: f64 = (0..years.len()).map(|i| at(i) * at(i)).sum();
    let (mut all, mut quadratic) = (0.0, 0.0);
    for i in 0..years.len() {
        for j in 0..years.len() {
            let alike = pow(r, f64::from(years[i].abs_diff(years[j])));
            all += alike;
            quadratic += alike * at(i) * at(j);
        }
    }
    (n - all / n - quadratic / spread) / (n - 2.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::closed_form::{decline, expected_toll, standard_error, variances_at};
    use crate::scenario::{Revisit, Scenario, read};
    use numerics::maths::ln;
    use numerics::special::{noncentral_t, normal};

    fn meadow() -> Scenario {
        read(include_str!("../../../../demo-data/meadow-beetles.json")).unwrap()
    }

    /// Twelve years with about 20 sites in each.
    const PATTERNS: [(Option<Revisit>, u32); 6] = [
        (None, 20),
        (
            Some(Revisit::Augmented {
                always: 10,
                panels: 4,
            }),
            50,
        ),
        (Some(Revisit::Alternating { panels: 4 }), 80),
        (Some(Revisit::Split { always: 10 }), 130),
        (Some(Revisit::NewEachYear), 240),
        (Some(Revisit::Rotating { stay: 4 }), 75),
    ];

    /// Variance, standard error and power (normal test, two-sided .05, slope ln .97) of the patterns for variances year
    /// .02, site .5, site by year .05, residual .1, twelve years, by generalised least squares with the covariance of
    /// Urquhart, Paulsen & Larsen 1998 (Ecol. Appl. 8:246) and Urquhart & Kincaid 1999 (J. Agric. Biol. Environ. Stat.
    /// 4:404), computed from the stated formula.
    #[test]
    fn table_of_patterns() {
        let table = [
            (0.000_192_307_7, 0.013_867_50, 0.593_486),
            (0.000_196_117_3, 0.014_004_19, 0.585_151),
            (0.000_208_294_8, 0.014_432_42, 0.559_841),
            (0.000_225_087_4, 0.015_002_91, 0.528_038),
            (0.000_367_132_9, 0.019_160_71, 0.355_775),
            (0.000_433_775_8, 0.020_827_29, 0.309_729),
        ];
        for ((revisit, sites), (variance, se, power)) in PATTERNS.into_iter().zip(table) {
            let mut s = meadow();
            (s.plan.revisit, s.plan.sites, s.plan.years) = (revisit, sites, 12);
            s.limits.sites = 300;
            let s = s.check().unwrap();
            let kinds = Kinds::of(&s, &s.plan, false);
            let in_a_year: Vec<u32> = (0..12).map(|y| s.plan.sites_in_year(y)).collect();
            assert_eq!(in_a_year, [20; 12]);
            assert_eq!(s.plan.site_years(), 240);
            let system = System {
                numbers: kinds.kinds.iter().map(|k| k.number).collect(),
                x: kinds
                    .kinds
                    .iter()
                    .flat_map(|_| (0..12).flat_map(|y| [1.0, f64::from(y) - 5.5]))
                    .collect(),
                columns: 2,
                years: 12,
                kinds,
            };
            let visited = system.kinds.kinds.iter().flat_map(|k| k.visited.clone());
            let w: Vec<f64> = visited.map(|v| if v { 1.0 / 0.15 } else { 0.0 }).collect();
            let got = system.covariance(&w, 0.5, 0.02).unwrap()[3];
            assert!((got - variance).abs() < 0.6e-10, "{revisit:?}: {got}");
            assert!((got.sqrt() - se).abs() < 0.6e-8, "{revisit:?}");
            let delta = -ln(0.97) / got.sqrt();
            let p = noncentral_t::power(normal::quantile(0.975), f64::INFINITY, delta, true);
            assert!((p - power).abs() < 0.6e-6, "{revisit:?}: {p}");
        }
    }

    /// Sites visited every year by this way and by the textbook's: the same where the catch hardly changes.
    #[test]
    fn all_sites_every_year_as_ever() {
        let mut s = meadow();
        let d = &mut s.premises.departures;
        d.year_autocorrelation.value = 0.3;
        d.shared_week_sd.value = 0.3;
        d.correlation_length_km.value = 3.0;
        d.region_km2.value = 100.0;
        d.site_slope_sd.value = 0.01;
        let s = s.check().unwrap();
        let (a, b) = (
            variances(&s, &s.plan, -0.001),
            decline::variances(&s, &s.plan, -0.001),
        );
        // What the analysis believes of neighbours that are alike is worked out a little differently.
        for (a, b, within) in [
            (a.truth, b.truth, 0.01),
            (a.believed, b.believed, 0.03),
            (a.floor, b.floor, 0.01),
        ] {
            assert!((a / b - 1.0).abs() < within, "{a} {b}");
        }
    }

    /// Few sites left are as bad as few sites; and nothing else of a plan moves with the premise of none.
    #[test]
    fn drop_out_costs_sites() {
        let with = |attrition: f64| {
            let mut s = meadow();
            s.premises.attrition.value = attrition;
            s.check().unwrap()
        };
        let (none, some, most) = (with(0.0), with(0.18), with(0.9));
        let se = |s: &Checked| standard_error(s, &s.plan);
        assert!(se(&none) < se(&some) && se(&some) < se(&most));
        let left = presence(&some, &some.plan);
        let years = some.plan.years as usize;
        for (y, p) in left[..years].iter().enumerate() {
            assert!((p - pow(0.82, y as f64)).abs() < 1e-12);
        }
        assert!(presence(&none, &none.plan).is_empty());
        let toll = |s: &Checked| expected_toll(s, &s.plan).total();
        assert!(toll(&some) < 0.7 * toll(&none) && toll(&some) > 0.3 * toll(&none));
        // Kinds up to each year make up all sites.
        let kinds = Kinds::of(&some, &some.plan, false).kinds;
        let all: f64 = kinds.iter().map(|k| k.number).sum();
        assert!((all - f64::from(some.plan.sites)).abs() < 1e-9 && kinds.len() == years);
    }

    /// Panels of both groups, pairs kept together; a gap costs years.
    #[test]
    fn two_groups_and_gaps() {
        let mut s = read(include_str!("../../../../demo-data/meadow-beetles.json")).unwrap();
        s.plan.gap_years = vec![4, 5];
        let gap = s.check().unwrap();
        let whole = meadow().check().unwrap();
        assert!(standard_error(&gap, &gap.plan) > standard_error(&whole, &whole.plan));
        let v = variances_at(&gap, &gap.plan, 0.03);
        assert!(v.floor > 0.0 && v.floor < v.truth);
        assert_eq!(gap.plan.turns(), whole.plan.turns() - 2);
    }
}
