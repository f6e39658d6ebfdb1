//! Hours and travel days month by month.

use super::Hours;
use super::calendar::{Calendar, SLOTS};
use super::rates::Rates;
use super::season::Season;
use numerics::maths::pow;

/// One month's work.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Month {
    pub hours: Hours,
    pub travel_days: f64,
}

/// Animals of one group.
#[derive(Clone, Copy, Debug)]
pub(super) struct Animals<'a> {
    /// Killed over all years.
    pub kill: f64,
    /// Share of them in each year of trapping.
    pub years: &'a [f64],
    /// Whether it is the target, or another species that is asked about.
    pub asked_about: bool,
}

impl<'a> Animals<'a> {
    pub fn target(kill: f64, years: &'a [f64]) -> Self {
        Self {
            kill,
            years,
            asked_about: true,
        }
    }
}

/// All months of all calendar years, and what is set and bought.
#[derive(Clone, Debug)]
pub(super) struct Grid {
    months: Vec<Month>,
    /// Traps that the year with the most sites needs.
    pub traps: f64,
    /// Trap-weeks set in each year; 0 where nobody traps.
    pub trap_weeks: Vec<f64>,
}

impl Grid {
    /// Empty.
    pub fn new(calendar: &Calendar) -> Self {
        Self {
            months: vec![Month::default(); 12 * calendar.labels().len()],
            traps: 0.0,
            trap_weeks: Vec::new(),
        }
    }

    /// The months of a calendar year.
    pub fn row(&self, row: usize) -> &[Month] {
        &self.months[12 * row..12 * (row + 1)]
    }

    /// Hours and travel days of a calendar year.
    pub fn of_year(&self, row: usize) -> (Hours, f64) {
        let mut hours = Hours::default();
        let mut days = 0.0;
        for m in self.row(row) {
            hours.add(&m.hours);
            days += m.travel_days;
        }
        (hours, days)
    }

    /// The work of a plan, in the place of what was there; `sites` are those visited in each year.
    pub fn fill(
        &mut self,
        rates: &Rates,
        calendar: &Calendar,
        season: &Season,
        sites: &[f64],
        traps: f64,
        animals: &[Animals],
    ) {
        self.months.fill(Month::default());
        let most = sites.iter().copied().fold(0.0, f64::max);
        self.traps = most * traps;
        self.trap_weeks.clear();
        let set = season.set();
        self.trap_weeks
            .extend(sites.iter().map(|s| set * (s * traps)));
        let counted = 1.0 - rates.loss;
        // What is the same in every year with as many sites.
        let (mut every, mut of) = ([Month::default(); SLOTS], f64::NAN);
        for (y, &row) in calendar.trapped().iter().enumerate() {
            if sites[y] != of {
                of = sites[y];
                every = of_sites(rates, season, of, traps);
            }
            // This calendar year's months, then the next one's.
            let months = &mut self.months[12 * row..];
            for &place in &season.used {
                months[place].hours.add(&every[place].hours);
                months[place].travel_days += every[place].travel_days;
            }
            let shares = season.kill.chunks_exact(animals.len());
            for (&slot, shares) in season.slots.iter().zip(shares) {
                let (mut asked, mut bycatch) = (0.0, 0.0);
                for (a, share) in animals.iter().zip(shares) {
                    let n = a.kill * a.years[y] * share * counted;
                    *if a.asked_about {
                        &mut asked
                    } else {
                        &mut bycatch
                    } += n;
                }
                let h = &mut months[slot].hours;
                h.sorting += (asked + bycatch) * rates.sorting_hours;
                h.identification += asked * rates.target_hours + bycatch * rates.bycatch_hours;
                h.curation += asked * rates.curation_hours;
            }
        }
        for m in &mut self.months {
            m.hours.travel = m.travel_days * rates.travel_hours;
        }
    }
}

/// What the sites of one year take, but for the animals.
fn of_sites(rates: &Rates, season: &Season, sites: f64, traps: f64) -> [Month; SLOTS] {
    let visit = rates.visit_hours + traps * rates.trap_hours;
    // Of a pooled sample something is left as long as one trap is.
    let samples = if rates.pooled {
        sites * (1.0 - pow(rates.loss, traps))
    } else {
        sites * traps * (1.0 - rates.loss)
    };
    let mut every = [Month::default(); SLOTS];
    for run in &season.runs {
        let open = sites * run.open;
        let rounds = rates.visits_per_week * run.weeks;
        let m = &mut every[run.month];
        m.travel_days += rounds * rates.days(open);
        m.hours.field += rounds * open * visit;
        every[run.slot].hours.sorting += samples * run.open * run.weeks * rates.sample_hours;
    }
    if let Some(run) = season.runs.first() {
        let m = &mut every[run.month];
        m.travel_days += rates.visits_before * rates.days(sites);
        m.hours.field +=
            rates.visits_before * sites * rates.visit_hours + sites * traps * rates.set_up_hours;
    }
    if let Some(run) = season.runs.last() {
        every[run.month].hours.field += sites * traps * rates.take_down_hours;
    }
    every
}
