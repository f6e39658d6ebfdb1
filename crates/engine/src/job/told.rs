//! What the search for the least plan tells, whole or in pieces.

use super::Job;
use crate::least::{
    Least, PlanAnswer, SMALLER_SHOWN, Stopped, front, half_exposure, missed, shortfall, stated,
    thrifty, undecided_toll,
};
use crate::plan_run::PlanRun;
use survey::scenario::Plan;
use survey::search::{Screen, scenario_of};

/// Plans of the frontier whose closed forms are one piece of the last report: some milliseconds.
const PIECE: usize = 40;

impl Job {
    /// Degrees of freedom and noncentrality of the frontier's plan there, by closed form; worked out once.
    fn stated_at(&self, screen: &Screen, place: usize) -> (f64, f64) {
        let plan = &screen.frontier[place].plan;
        *self.stated[place].get_or_init(|| stated(&self.scenario, plan))
    }

    /// Works out a piece of the report; whether there was one left. What the last one alone needs waits for the end.
    pub(super) fn prepare_least(&self) -> bool {
        let mut finished = self.runs.iter().filter(|r| r.finished());
        if let Some(run) = finished.clone().find(|r| !r.has_answer()) {
            run.answer(&self.scenario);
            return true;
        }
        if !self.finished() {
            return false;
        }
        if let Some(run) = finished.find(|r| r.stop().is_none() && !r.has_stated_power()) {
            run.stated_power(&self.scenario);
            return true;
        }
        // What cannot be told apart is told of a plan that was found.
        let (Some(_), Some(screen)) = (&self.proof, &self.screen) else {
            return false;
        };
        let places = 0..self.stated.len();
        let left = places.filter(|&p| self.stated[p].get().is_none());
        let left: Vec<usize> = left.take(PIECE).collect();
        for &place in &left {
            self.stated_at(screen, place);
        }
        !left.is_empty()
    }

    fn answer_of(&self, plan: &Plan, fewer: &'static str) -> Option<PlanAnswer> {
        let run = self.run_of(plan)?;
        Some(PlanAnswer {
            stopped: run.stop().map(|stop| Stopped::new(stop, run.replicates())),
            ..PlanAnswer::of(run.answer(&self.scenario), fewer)
        })
    }

    pub(super) fn least(&self) -> Least {
        let mut least = Least {
            question: self.scenario.question.effect.key(),
            complete: self.finished(),
            plan: None,
            test: None,
            power: None,
            false_alarm: None,
            smallest_change: None,
            significant: None,
            fits: None,
            toll: None,
            cost: None,
            smaller: Vec::new(),
            frontier: Vec::new(),
            thrifty: Vec::new(),
            binding_limits: self.relaxed.clone().unwrap_or_default(),
            missed: None,
            shortfall: None,
            undecided_toll: None,
            half_exposure: None,
            screened: self.screen.as_ref().map_or(0, |s| s.plans),
            allowed: self.screen.as_ref().map_or(0, |s| s.allowed),
            simulated: self.runs.len(),
            stopped: self.runs.iter().filter_map(PlanRun::stop).count(),
            surveys: self.runs.iter().map(PlanRun::used).sum(),
        };
        let Some(screen) = &self.screen else {
            return least;
        };
        let found = self.proof.as_ref().map(|p| &p.plan);
        let simulated = |plan: &Plan| {
            let run = self.run_of(plan).filter(|r| r.finished())?;
            let a = run.answer(&self.scenario);
            Some((a.power, a.false_alarm))
        };
        least.frontier = front(screen, simulated, found);
        least.thrifty = thrifty(screen, simulated);
        // Many closed forms: once, at the end.
        if least.complete {
            least.missed = missed(&self.scenario, screen, &self.known_powers());
        }
        match found {
            Some(found) => self.tell_found(&mut least, &found.plan),
            None if self.finished() => {
                let surest = self.resting_on().and_then(|p| self.candidate_at(p));
                let surest = surest.and_then(|c| self.answer_of(&c.plan, "frontier"));
                least.shortfall = surest.map(|s| {
                    let scenario = scenario_of(&self.scenario, &s.plan);
                    shortfall(&scenario, s)
                });
            }
            None => {}
        }
        least
    }

    /// Simulated power and closed form of every plan that was simulated without a race.
    fn known_powers(&self) -> Vec<(f64, f64)> {
        let whole = self
            .runs
            .iter()
            .filter(|r| r.finished() && r.stop().is_none());
        whole
            .map(|r| {
                let preview = r.stated_power(&self.scenario);
                (r.answer(&self.scenario).power.estimate, preview)
            })
            .collect()
    }

    fn tell_found(&self, least: &mut Least, plan: &Plan) {
        let (Some(run), Some(screen)) = (self.run_of(plan), &self.screen) else {
            return;
        };
        let a = run.answer(&self.scenario);
        if least.complete {
            let scenario = scenario_of(&self.scenario, &a.plan);
            let at = |place| self.stated_at(screen, place);
            least.undecided_toll = Some(undecided_toll(&scenario, screen, &a.plan, &a.power, at));
            least.half_exposure = self
                .scenario
                .limits
                .exposure_days
                .is_empty()
                .then(|| half_exposure(&scenario, &a.plan, &a.power));
        }
        let Some(proof) = &self.proof else {
            return;
        };
        let mut shown: Vec<Plan> = vec![a.plan.clone()];
        let mut add = |plan: &Plan, fewer, within_limits| {
            let finished = self.run_of(plan).is_some_and(PlanRun::finished);
            if finished && !shown.contains(plan) {
                shown.push(plan.clone());
                if let Some(told) = self.answer_of(plan, fewer) {
                    let mut told = told.against(&self.scenario, &a.plan);
                    told.within_limits = within_limits;
                    least.smaller.push(told);
                }
            }
        };
        for n in &proof.neighbours {
            add(&n.plan, n.fewer, n.within_limits);
        }
        let below = screen.frontier.iter().rev();
        let below = below.filter(|c| c.weighted_toll < proof.plan.weighted_toll);
        for c in below.take(SMALLER_SHOWN) {
            add(&c.plan, "frontier", true);
        }
        for c in proof.challengers.iter().flatten() {
            add(&c.plan, "challenger", true);
        }
        least.plan = Some(a.plan);
        least.test = Some(a.test);
        least.power = Some(a.power);
        least.false_alarm = Some(a.false_alarm);
        least.smallest_change = a.smallest_change;
        least.significant = Some(a.significant);
        least.fits = Some(a.fits);
        least.toll = a.toll;
        least.cost = a.cost.map(|c| c.total);
    }
}
