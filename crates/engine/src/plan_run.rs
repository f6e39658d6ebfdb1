//! The replicates of one plan, arriving in any order and read in order.

use crate::task::{Size, Work};
use survey::evaluate::Replicate;
use survey::generator::World;
use survey::scenario::Checked;
use survey::summary::{Answer, summarise};

/// Site-years simulated and fitted in one chunk: some tens of milliseconds.
const SITE_YEARS_A_CHUNK: u64 = 6000;

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
}

impl PlanRun {
    pub fn new(size: Size, replicates: u64) -> Self {
        let cells = u64::from(size.sites) * u64::from(size.years);
        let chunk = (SITE_YEARS_A_CHUNK / cells.max(1)).clamp(1, 100);
        let chunks = replicates.div_ceil(chunk) as usize;
        Self {
            size,
            replicates,
            chunk,
            asked: 0,
            change: vec![None; chunks],
            still: vec![None; chunks],
            told: 0,
        }
    }

    /// Replicates wanted in both worlds together.
    pub fn total(&self) -> u64 {
        2 * self.replicates
    }

    /// Replicates told so far.
    pub fn told(&self) -> u64 {
        self.told
    }

    pub fn finished(&self) -> bool {
        self.told == self.total()
    }

    /// Whether chunks are left to ask for.
    pub fn has_more(&self) -> bool {
        self.asked < 2 * self.change.len() as u64
    }

    /// Share of the chunks asked for.
    pub fn asked_share(&self) -> f64 {
        self.asked as f64 / (2 * self.change.len()) as f64
    }

    /// The next chunk: the two worlds in turn.
    pub fn next(&mut self) -> Option<Work> {
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
        Some(Work::Simulate {
            size: self.size,
            world,
            first,
            count,
        })
    }

    /// Takes the replicates of a chunk; a chunk told twice counts once.
    pub fn tell(&mut self, world: World, first: u64, replicates: Vec<Replicate>) {
        let store = match world {
            World::Change => &mut self.change,
            World::Still => &mut self.still,
        };
        let Some(place) = store.get_mut((first / self.chunk) as usize) else {
            return;
        };
        if place.is_none() {
            self.told += replicates.len() as u64;
            *place = Some(replicates);
        }
    }

    /// The answer from the chunks that have arrived without a gap.
    pub fn answer(&self, scenario: &Checked) -> Answer {
        let prefix = |store: &[Option<Vec<Replicate>>]| -> Vec<Replicate> {
            store
                .iter()
                .map_while(Option::as_ref)
                .flatten()
                .cloned()
                .collect()
        };
        let plan = self.size.on(&scenario.plan);
        summarise(scenario, &plan, &prefix(&self.change), &prefix(&self.still))
    }
}
