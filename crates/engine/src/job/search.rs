//! The search for the least plan: probes along the frontier until the first plan that reaches the wanted power is known,
//! then the proof that nothing smaller does.

use super::Job;
use crate::least::{
    CHALLENGERS, FRONT_REPLICATES, Proof, RACE_ERROR, SMALLER_SHOWN, thrifty_to_confirm, to_confirm,
};
use crate::plan_run::PlanRun;
use crate::task::{Size, Work};
use numerics::sequential::Race;
use survey::closed_form::{delta_for, preview_at_stated, wanted_delta};
use survey::scenario::Plan;
use survey::search::{Candidate, neighbours, scenario_of};

impl Job {
    pub(super) fn run_of(&self, plan: &Plan) -> Option<&PlanRun> {
        self.runs.iter().find(|r| r.size.plan == *plan)
    }

    fn run_of_mut(&mut self, plan: &Plan) -> Option<&mut PlanRun> {
        self.runs.iter_mut().find(|r| r.size.plan == *plan)
    }

    pub(super) fn candidate_at(&self, place: usize) -> Option<&Candidate> {
        self.screen.as_ref()?.frontier.get(place)
    }

    fn run_at(&self, place: usize) -> Option<&PlanRun> {
        self.run_of(&self.candidate_at(place)?.plan)
    }

    /// Goes as far as what is known allows.
    pub(super) fn advance(&mut self) {
        // All that is left once points of the frontier are simulated is to wait.
        if self.screen.is_none() || self.confirming {
            return;
        }
        while self.proof.is_none() {
            if let Some(place) = self.bracket.next() {
                match self.run_at(place) {
                    Some(run) if run.finished() => {
                        let sufficient = run.reaches_wanted(&self.scenario);
                        self.bracket.tell(place, sufficient);
                    }
                    Some(_) => return,
                    None => return self.begin_at(place),
                }
            } else if !self.completed() {
                return;
            } else if self.bracket.found().is_none() {
                break;
            } else {
                match self.looked_below() {
                    // One of them answers after all: the look goes on below it.
                    Some(false) => {}
                    None => return,
                    Some(true) => {
                        let found = self.bracket.found().and_then(|f| self.candidate_at(f));
                        match found.cloned() {
                            Some(found) => self.put_to_proof(found),
                            None => return,
                        }
                    }
                }
            }
        }
        while let Some(better) = self.proved_wrong() {
            match better {
                Some(better) => self.put_to_proof(better),
                None => return,
            }
        }
        self.confirming = true;
        self.confirm_front();
    }

    /// The plan that the answer rests on: the least plan, or the surest one when none answers.
    pub(super) fn resting_on(&self) -> Option<usize> {
        let places = self.screen.as_ref().map_or(0, |s| s.frontier.len());
        self.bracket.found().or(places.checked_sub(1))
    }

    /// Simulates in full the plan that the answer rests on, so that its numbers are ordinary ones. Whether that is done;
    /// should its estimate fall on the other side than the race said, the bracket is told and goes on.
    fn completed(&mut self) -> bool {
        let Some(plan) = self.resting_on().and_then(|p| self.candidate_at(p)) else {
            // Nothing at all within the limits.
            return true;
        };
        let plan = plan.plan.clone();
        if !self.complete(&plan) {
            return false;
        }
        let sufficient = self.reaches(&plan);
        if sufficient != self.bracket.found().is_some()
            && let Some(place) = self.resting_on()
        {
            self.bracket.tell(place, sufficient);
        }
        true
    }

    /// Takes the race off a plan's run; whether all of it is simulated.
    fn complete(&mut self, plan: &Plan) -> bool {
        let Some(run) = self.run_of_mut(plan) else {
            return false;
        };
        run.complete();
        run.finished()
    }

    fn reaches(&self, plan: &Plan) -> bool {
        self.run_of(plan)
            .is_some_and(|r| r.finished() && r.reaches_wanted(&self.scenario))
    }

    fn below(&self) -> std::ops::Range<usize> {
        let found = self.bracket.found().unwrap_or(0);
        found.saturating_sub(SMALLER_SHOWN)..found
    }

    fn below_known(&self) -> bool {
        self.below()
            .all(|place| self.run_at(place).is_some_and(PlanRun::finished))
    }

    /// Simulates the next smaller plans too. One that reaches the wanted power after all (the power rises along the
    /// frontier only up to Monte Carlo error) becomes the plan found, and the look goes on below it. All of them are
    /// waited for, so that the order of arrival decides nothing. Whether none does; `None` as long as that is not known.
    fn looked_below(&mut self) -> Option<bool> {
        for place in self.below() {
            if self.run_at(place).is_none() {
                self.begin_at(place);
            }
        }
        if !self.below_known() {
            return None;
        }
        let reaches = |place: &usize| {
            self.run_at(*place)
                .is_some_and(|r| r.reaches_wanted(&self.scenario))
        };
        let Some(smaller) = self.below().find(reaches) else {
            return Some(true);
        };
        self.bracket.tell(smaller, true);
        Some(false)
    }

    fn put_to_proof(&mut self, plan: Candidate) {
        let neighbours = neighbours(&self.scenario, &plan.plan);
        for near in &neighbours {
            self.begin_in_full(&near.plan);
        }
        self.proof = Some(Proof {
            neighbours,
            challengers: None,
            asked: false,
            plan,
        });
    }

    /// What the proof has come to: `None` when nothing smaller answers (or there is nothing to prove), otherwise the plan
    /// that takes the found one's place, or `Some(None)` as long as that is not known.
    fn proved_wrong(&mut self) -> Option<Option<Candidate>> {
        let proof = self.proof.as_ref()?;
        let Some(challengers) = &proof.challengers else {
            return Some(None);
        };
        let (near, far): (Vec<Plan>, Vec<Candidate>) = (
            proof.neighbours.iter().map(|n| n.plan.clone()).collect(),
            challengers.clone(),
        );
        let (rivals, least_toll) = (proof.rivals(), proof.plan.weighted_toll);
        for c in &far {
            if self.run_of(&c.plan).is_none() {
                self.begin(&c.plan);
            }
        }
        let known = |plan: &Plan| self.run_of(plan).is_some_and(PlanRun::finished);
        if !near.iter().all(known) || !far.iter().all(|c| known(&c.plan)) {
            return Some(None);
        }
        let mut better: Vec<Candidate> = Vec::new();
        for plan in rivals
            .iter()
            .filter(|p| self.reaches(p))
            .cloned()
            .collect::<Vec<_>>()
        {
            // What a race called sufficient is simulated in full before it counts.
            if !self.complete(&plan) {
                return Some(None);
            }
            if self.reaches(&plan) {
                let candidate = Candidate::alone(&self.scenario, &plan);
                if candidate.weighted_toll < least_toll {
                    better.push(candidate);
                }
            }
        }
        better
            .into_iter()
            .min_by(|a, b| a.weighted_toll.total_cmp(&b.weighted_toll))
            .map(Some)
    }

    fn begin_at(&mut self, place: usize) {
        if let Some(candidate) = self.candidate_at(place) {
            let plan = candidate.plan.clone();
            self.begin(&plan);
        }
    }

    fn begin(&mut self, plan: &Plan) {
        let race = Race {
            wanted: self.scenario.question.wanted_power,
            error: RACE_ERROR,
        };
        let run = PlanRun::raced(Size::of(plan), self.replicates, self.chunk, race);
        self.runs.push(run);
    }

    fn begin_in_full(&mut self, plan: &Plan) {
        match self.run_of_mut(plan) {
            Some(run) => run.complete(),
            None => {
                let run = PlanRun::new(Size::of(plan), self.replicates, self.chunk);
                self.runs.push(run);
            }
        }
    }

    fn confirm_front(&mut self) {
        let Some(screen) = &self.screen else { return };
        let places = to_confirm(screen).into_iter();
        let mut plans: Vec<Plan> = places.map(|p| screen.frontier[p].plan.clone()).collect();
        plans.extend(thrifty_to_confirm(screen));
        for plan in plans {
            if self.run_of(&plan).is_none() {
                let replicates = self.replicates.min(FRONT_REPLICATES);
                let run = PlanRun::new(Size::of(&plan), replicates, self.chunk);
                self.runs.push(run);
            }
        }
    }

    /// Closed forms that the search waits for.
    pub(super) fn closed_forms_wanted(&mut self) -> Option<Work> {
        if self.screen.is_none() {
            let first = !std::mem::replace(&mut self.screening, true);
            return first.then_some(Work::Screen);
        }
        if let Some(proof) = self.proof.as_mut().filter(|p| !p.asked) {
            proof.asked = true;
            return Some(Work::Challengers {
                below: proof.plan.weighted_toll,
                most: CHALLENGERS,
            });
        }
        if self.confirming && !self.relaxing {
            self.relaxing = true;
            let (needed, below) = if self.nothing() {
                // No simulation says how far off the closed forms are: they are taken at their word.
                (1.0, f64::INFINITY)
            } else {
                self.needed()?
            };
            return Some(Work::Relax { needed, below });
        }
        None
    }

    /// The margin that a plan needs, by closed form made right for the plan the answer rests on, and the weighted toll of
    /// the least plan.
    fn needed(&self) -> Option<(f64, f64)> {
        let (candidate, below) = match &self.proof {
            Some(p) => (&p.plan, p.plan.weighted_toll),
            None => (self.candidate_at(self.resting_on()?)?, f64::INFINITY),
        };
        let power = self.run_of(&candidate.plan)?.answer(&self.scenario).power;
        let scenario = scenario_of(&self.scenario, &candidate.plan);
        let df = preview_at_stated(&scenario, &candidate.plan).df;
        let simulated = delta_for(&self.scenario, df, power.estimate.clamp(0.001, 0.999));
        let wanted = wanted_delta(&self.scenario, df);
        Some((candidate.margin * wanted / simulated.max(1e-9), below))
    }

    /// Whether the search is over.
    pub(super) fn searched(&self) -> bool {
        self.screen.is_some() && self.confirming && self.relaxed.is_some()
    }

    /// Whether the limits hold no plan at all.
    fn nothing(&self) -> bool {
        self.screen.as_ref().is_some_and(|s| s.frontier.is_empty())
    }
}
