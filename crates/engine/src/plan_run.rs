//! The replicates of one plan, arriving in any order and read in order.

use crate::task::Size;
use numerics::sequential::{Race, Side};
use std::cell::OnceCell;
use survey::axis::Axis;
use survey::closed_form::power_at_stated;
use survey::evaluate::Replicate;
use survey::futures::Stamp;
use survey::generator::World;
use survey::scenario::Checked;
use survey::search::scenario_of;
use survey::summary::{
    Answer, Evidence, Foreseen, Point, PreviewAnswer, foresee, stamps, standing, summarise_foreseen,
};

/// Site-years simulated and fitted in one chunk of one plan: some milliseconds, so that first results are soon there.
const SITE_YEARS_A_CHUNK: u64 = 6000;
/// The same of several plans that are drawn together: some tens of milliseconds.
pub(crate) const SITE_YEARS_TOGETHER: u64 = 25_000;
/// Most replicates in one chunk.
const LARGEST_CHUNK: u64 = 100;

/// Where a raced plan was stopped.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Stop {
    /// Replicates of each world that decided it.
    pub after: u64,
    /// The side of the wanted power that is sure.
    pub side: Side,
}

/// Replicates in a chunk of plans that are simulated together.
pub(crate) fn usual_chunk(sizes: &[Size]) -> u64 {
    let cells: u64 = sizes.iter().map(|s| s.site_years()).sum();
    let most = if sizes.len() > 1 {
        SITE_YEARS_TOGETHER
    } else {
        SITE_YEARS_A_CHUNK
    };
    (most / cells.max(1)).clamp(1, LARGEST_CHUNK)
}

/// One plan's simulation.
#[derive(Clone, Debug)]
pub(crate) struct PlanRun {
    pub size: Size,
    replicates: u64,
    chunk: u64,
    asked: u64,
    change: Vec<Option<Vec<Replicate>>>,
    still: Vec<Option<Vec<Replicate>>>,
    told: u64,
    race: Option<Race>,
    looked: u64,
    stop: Option<Stop>,
    /// The answer, once everything is told.
    known: OnceCell<Box<Answer>>,
    /// What closed forms say of the plan, once asked for.
    preview: OnceCell<PreviewAnswer>,
    /// All that is said of it whatever its surveys come to, once asked for.
    foreseen: OnceCell<Box<Foreseen>>,
    /// Its power by closed form, once asked for.
    stated_power: OnceCell<f64>,
    /// The point of a curve, until more is told.
    point: OnceCell<Box<Point>>,
}

impl PlanRun {
    /// All `replicates`, in chunks of as many as `chunk` says or else of some tens of milliseconds.
    pub fn new(size: Size, replicates: u64, chunk: Option<u64>) -> Self {
        let chunk = chunk
            .unwrap_or_else(|| usual_chunk(std::slice::from_ref(&size)))
            .max(1);
        let chunks = replicates.div_ceil(chunk) as usize;
        Self {
            size,
            replicates,
            chunk,
            asked: 0,
            change: vec![None; chunks],
            still: vec![None; chunks],
            told: 0,
            race: None,
            looked: 0,
            stop: None,
            known: OnceCell::new(),
            preview: OnceCell::new(),
            foreseen: OnceCell::new(),
            stated_power: OnceCell::new(),
            point: OnceCell::new(),
        }
    }

    /// As many of the replicates as the race takes to be sure.
    pub fn raced(size: Size, replicates: u64, chunk: Option<u64>, race: Race) -> Self {
        // Chunks no longer than a step, so that little is simulated beyond the stop.
        let chunk =
            chunk.unwrap_or_else(|| usual_chunk(std::slice::from_ref(&size)).min(Race::STEP));
        Self {
            race: Some(race),
            ..Self::new(size, replicates, Some(chunk))
        }
    }

    /// Takes the race off: what was stopped goes on to all replicates.
    pub fn complete(&mut self) {
        if self.race.is_some() {
            (self.race, self.stop) = (None, None);
            self.known.take();
            self.point.take();
        }
    }

    /// Where it was stopped, if it was.
    pub fn stop(&self) -> Option<Stop> {
        self.stop
    }

    /// Replicates wanted in each world.
    pub fn replicates(&self) -> u64 {
        self.replicates
    }

    /// Replicates wanted in both worlds together; of a stopped plan those that have come.
    pub fn total(&self) -> u64 {
        if self.stop.is_some() {
            self.told
        } else {
            2 * self.replicates
        }
    }

    /// Replicates told so far.
    pub fn told(&self) -> u64 {
        self.told
    }

    /// Replicates that the answer uses, both worlds together.
    pub fn used(&self) -> u64 {
        self.stop.map_or(self.told, |s| 2 * s.after)
    }

    pub fn finished(&self) -> bool {
        self.told == self.total()
    }

    /// Whether chunks are left to ask for.
    pub fn has_more(&self) -> bool {
        self.stop.is_none() && self.asked < 2 * self.change.len() as u64
    }

    /// Share of the chunks asked for.
    pub fn asked_share(&self) -> f64 {
        self.asked as f64 / (2 * self.change.len()) as f64
    }

    /// The next chunk, the two worlds in turn: the world, the first replicate and how many.
    pub fn next(&mut self) -> Option<(World, u64, u64)> {
        if !self.has_more() {
            return None;
        }
        let (index, world) = (
            self.asked / 2,
            if self.asked.is_multiple_of(2) {
                World::Change
            } else {
                World::Still
            },
        );
        self.asked += 1;
        let first = index * self.chunk;
        let count = self.chunk.min(self.replicates - first);
        Some((world, first, count))
    }

    /// Takes the replicates of a chunk; a chunk told twice counts once.
    pub fn tell(
        &mut self,
        scenario: &Checked,
        world: World,
        first: u64,
        replicates: Vec<Replicate>,
    ) {
        let store = match world {
            World::Change => &mut self.change,
            World::Still => &mut self.still,
        };
        let Some(place) = store.get_mut((first / self.chunk) as usize) else {
            return;
        };
        if place.is_none() {
            self.told += replicates.len() as u64;
            self.known.take();
            self.point.take();
            *place = Some(replicates);
        }
        self.look(scenario);
    }

    /// Looks after every step of replicates that both worlds have without a gap, so that where it stops depends on
    /// neither chunks nor the order of arrival.
    fn look(&mut self, scenario: &Checked) {
        let (Some(race), None) = (self.race, self.stop) else {
            return;
        };
        let (change, still) = (prefix(&self.change), prefix(&self.still));
        let both = change.len().min(still.len()) as u64;
        while self.looked + Race::STEP <= both && self.looked + Race::STEP < self.replicates {
            self.looked += Race::STEP;
            let (plan, n) = (self.size.plan.clone(), self.looked as usize);
            let scenario = &*self.size.scenario(scenario);
            let sure = standing(scenario, &plan, &change[..n], &still[..n])
                .and_then(|s| race.side(s.hits, s.n, s.extra_se));
            if let Some(side) = sure {
                let after = self.looked;
                self.stop = Some(Stop { after, side });
                return;
            }
        }
    }

    /// The chunks that have arrived without a gap; of a stopped plan what decided the stop alone.
    pub fn evidence(&self) -> Evidence<'_> {
        let most = self.stop.map_or(usize::MAX, |s| s.after as usize);
        let taken = |store| prefix(store).into_iter().take(most).collect();
        Evidence {
            change: taken(&self.change),
            still: taken(&self.still),
            complete: self.finished(),
        }
    }

    /// The answer so far; worked out once when everything is told.
    pub fn answer(&self, scenario: &Checked) -> Answer {
        if self.finished() {
            let known = self.known.get_or_init(|| Box::new(self.work_out(scenario)));
            return (**known).clone();
        }
        self.work_out(scenario)
    }

    /// Whether [`PlanRun::answer`] has nothing to work out.
    pub fn has_answer(&self) -> bool {
        self.known.get().is_some()
    }

    /// The plan's power by closed form.
    pub fn stated_power(&self, scenario: &Checked) -> f64 {
        let plan = &self.size.plan;
        let work_out = || power_at_stated(&scenario_of(scenario, plan), plan);
        *self.stated_power.get_or_init(work_out)
    }

    /// Whether [`PlanRun::stated_power`] has nothing to work out.
    pub fn has_stated_power(&self) -> bool {
        self.stated_power.get().is_some()
    }

    /// What closed forms say of the plan, under the scenario as it is for this plan.
    fn preview(&self, scenario: &Checked) -> PreviewAnswer {
        let foreseen = || foresee(scenario, &self.size.plan);
        *self.preview.get_or_init(foreseen)
    }

    fn work_out(&self, scenario: &Checked) -> Answer {
        let scenario = &*self.size.scenario(scenario);
        let plan = self.size.plan.clone();
        let evidence = self.evidence();
        let foreseen = self.foreseen.get_or_init(|| {
            let preview = self.preview(scenario);
            Box::new(Foreseen::of(scenario, &plan, preview))
        });
        let mut answer = summarise_foreseen(scenario, &plan, foreseen, &evidence);
        if self.stop.is_some() {
            let extra = standing(scenario, &plan, &evidence.change, &evidence.still)
                .map_or(0.0, |s| s.extra_se);
            answer.power = answer.power.whenever_stopped(extra);
            answer.false_alarm = answer.false_alarm.whenever_stopped(0.0);
        }
        answer
    }

    /// What each of the first surveys of both worlds comes to.
    pub fn stamps(&self, scenario: &Checked, count: usize) -> (Vec<Stamp>, Vec<Stamp>) {
        let scenario = &*self.size.scenario(scenario);
        let plan = self.size.plan.clone();
        stamps(scenario, &plan, &self.evidence(), count)
    }

    /// The point of the curve over `axis` so far; a run is on one curve.
    pub fn point(&self, scenario: &Checked, axis: Axis) -> Point {
        let work_out = || {
            let scenario = &*self.size.scenario(scenario);
            let plan = self.size.plan.clone();
            let preview = self.preview(scenario);
            Box::new(Point::new(scenario, &plan, axis, preview, &self.evidence()))
        };
        (**self.point.get_or_init(work_out)).clone()
    }

    /// Whether [`PlanRun::point`] has nothing to work out.
    pub fn has_point(&self) -> bool {
        self.point.get().is_some()
    }

    /// Whether its power reaches the wanted one: by its sure side, or else by its estimate from all replicates.
    pub fn reaches_wanted(&self, scenario: &Checked) -> bool {
        match self.stop {
            Some(stop) => stop.side == Side::Above,
            None => self.answer(scenario).power.estimate >= scenario.question.wanted_power,
        }
    }
}

/// The replicates before the first gap.
fn prefix(store: &[Option<Vec<Replicate>>]) -> Vec<&Replicate> {
    store.iter().map_while(Option::as_ref).flatten().collect()
}
