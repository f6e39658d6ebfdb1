//! The fixed effects of the planned analysis.

use crate::generator::positions;
use crate::scenario::{Checked, Effect, Plan, Rows};

/// Covariates of each row, row-major. A row is a site-year (`s * years + y`) or a site's week of a year
/// (`(s * years + y) * weeks + w`).
///
/// Decline, no worse: 1 and the year, centred. Difference: 1 and the treated site, centred. Before and after: 1, treated
/// site, treated year, both centred, and their product. Range shift: 1, x, x^2, centred year t, and x t, with x the position less the
/// transect's middle in quarters of its length (the scale). Rows of weeks add w and w^2, w the week less the run's
/// middle: a bell-shaped season is a parabola on the log scale. A column that would repeat another is left out (w^2
/// with two weeks, both with one).
#[derive(Clone, Debug)]
pub struct Covariates {
    /// Values, `columns` for each row.
    pub x: Vec<f64>,
    /// Fixed effects.
    pub columns: usize,
    /// Those of the season among them, the last ones.
    pub season: usize,
    /// Number of the column that holds the change.
    pub change: usize,
    /// Gradient units of one unit of x (1 without a gradient).
    pub scale: f64,
    /// Middle of the transect (0 without a gradient).
    pub centre: f64,
    /// Middle of the run of weeks.
    pub middle_week: f64,
    /// Share of sites that are treated, and of years in which the treatment acts (0 without groups).
    pub treated: (f64, f64),
}

/// Which sites are treated and since when.
struct Treated {
    treats: Vec<bool>,
    /// First year of the treatment, from 0; 0 when it has always been there.
    from: usize,
    /// Share of the sites and of the years that are treated.
    shares: (f64, f64),
}

impl Treated {
    fn of(scenario: &Checked, plan: &Plan) -> Option<Self> {
        let groups = plan.groups.as_ref()?;
        let from = match scenario.question.effect {
            Effect::Difference(_) => 0,
            Effect::BeforeAfter(_) => groups.before_years,
            _ => return None,
        };
        Some(Self {
            treats: (0..plan.sites).map(|s| groups.treats(s)).collect(),
            from: from as usize,
            shares: (
                f64::from(groups.treated_of(plan.sites)) / f64::from(plan.sites),
                1.0 - f64::from(from) / f64::from(plan.years),
            ),
        })
    }

    fn row(&self, s: usize, y: usize) -> Vec<f64> {
        let in_group = f64::from(u8::from(self.treats[s])) - self.shares.0;
        let after = f64::from(u8::from(y >= self.from)) - self.shares.1;
        if self.from == 0 {
            vec![1.0, in_group]
        } else {
            vec![1.0, in_group, after, in_group * after]
        }
    }
}

impl Covariates {
    /// The covariates of a plan.
    pub fn new(scenario: &Checked, plan: &Plan) -> Self {
        Self::by_rows(scenario, plan, scenario.analysis.rows == Rows::Weeks)
    }

    /// The covariates of site-years, whatever the analysis' rows are.
    pub fn of_site_years(scenario: &Checked, plan: &Plan) -> Self {
        Self::by_rows(scenario, plan, false)
    }

    fn by_rows(scenario: &Checked, plan: &Plan, weekly: bool) -> Self {
        let (sites, years) = (plan.sites as usize, plan.years as usize);
        let open = plan.open_weeks();
        let (weeks, season) = if weekly {
            (open.clone(), (open.len() - 1).min(2))
        } else {
            (vec![plan.first_week], 0)
        };
        let mid = 0.5 * (years as f64 - 1.0);
        // Half way between the first and the last week.
        let last = open.last().copied().unwrap_or(plan.first_week);
        let half_run = 0.5 * f64::from(last - plan.first_week);
        let (centre, scale, places) = match (&scenario.question.effect, &plan.transect) {
            (Effect::RangeShift(_), Some(t)) => (
                0.5 * (t.lowest + t.highest),
                0.25 * (t.highest - t.lowest),
                positions(scenario, plan),
            ),
            _ => (0.0, 1.0, Vec::new()),
        };
        let gradient = !places.is_empty();
        let groups = Treated::of(scenario, plan);
        let mut x = Vec::new();
        for s in 0..sites {
            for y in 0..years {
                let t = y as f64 - mid;
                for &w in &weeks {
                    if gradient {
                        let p = (places[s] - centre) / scale;
                        x.extend([1.0, p, p * p, t, p * t]);
                    } else if let Some(g) = &groups {
                        x.extend(g.row(s, y));
                    } else {
                        x.extend([1.0, t]);
                    }
                    let w = f64::from(w - plan.first_week) - half_run;
                    x.extend([w, w * w].iter().take(season));
                }
            }
        }
        let (own, change) = match &groups {
            _ if gradient => (5, 4),
            Some(g) if g.from > 0 => (4, 3),
            _ => (2, 1),
        };
        Self {
            x,
            columns: own + season,
            season,
            change,
            scale,
            centre,
            middle_week: f64::from(plan.first_week) + half_run,
            treated: groups.map_or((0.0, 0.0), |g| g.shares),
        }
    }

    /// The same without the column of the change.
    pub fn without_change(&self) -> Vec<f64> {
        let rows = self.x.chunks_exact(self.columns);
        let kept = |row: &[f64]| -> Vec<f64> {
            let columns = row.iter().enumerate();
            let kept = columns.filter(|(j, _)| *j != self.change);
            kept.map(|(_, v)| *v).collect()
        };
        rows.flat_map(kept).collect()
    }
}
