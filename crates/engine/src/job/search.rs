//! The search for the least plan: probes along the frontier until the first plan that reaches the wanted power is known.

use super::Job;
use crate::least::{
    Least, PlanAnswer, RACE_ERROR, SMALLER_SHOWN, Stopped, half_exposure, shortfall, undecided_toll,
};
use crate::plan_run::PlanRun;
use crate::task::Size;
use numerics::sequential::Race;

impl Job {
    fn run_at_mut(&mut self, place: usize) -> Option<&mut PlanRun> {
        let size = Size::of(&self.screen.as_ref()?.frontier.get(place)?.plan);
        self.runs.iter_mut().find(|r| r.size == size)
    }

    fn run_at(&self, place: usize) -> Option<&PlanRun> {
        let size = Size::of(&self.screen.as_ref()?.frontier.get(place)?.plan);
        self.runs.iter().find(|r| r.size == size)
    }

    /// Probes the next place of the frontier once the last one is decided. Probes are raced: stopped once it is sure on
    /// which side of the wanted power they lie.
    pub(super) fn advance(&mut self) {
        loop {
            while let Some(place) = self.bracket.next() {
                match self.run_at(place) {
                    Some(run) if run.finished() => {
                        let sufficient = run.reaches_wanted(&self.scenario);
                        self.bracket.tell(place, sufficient);
                    }
                    Some(_) => return,
                    None => return self.begin(place),
                }
            }
            if !self.completed() || !self.looked_below() {
                return;
            }
        }
    }

    /// The place that the answer rests on: the least plan, or the surest one when none answers.
    fn resting_on(&self) -> Option<usize> {
        let places = self.screen.as_ref().map_or(0, |s| s.frontier.len());
        self.bracket.found().or(places.checked_sub(1))
    }

    /// Simulates in full the plan that the answer rests on, so that its numbers are ordinary ones. Whether that is done
    /// and there is more to do: should its estimate fall on the other side than the race said, the search goes on.
    fn completed(&mut self) -> bool {
        let Some(place) = self.resting_on() else {
            return false;
        };
        let Some(run) = self.run_at_mut(place) else {
            return false;
        };
        run.complete();
        if !run.finished() {
            return false;
        }
        let sufficient = self
            .run_at(place)
            .is_some_and(|r| r.reaches_wanted(&self.scenario));
        if sufficient != self.bracket.found().is_some() {
            self.bracket.tell(place, sufficient);
            return true;
        }
        sufficient
    }

    /// Simulates the next smaller plans too. One that reaches the wanted power after all (the power rises along the
    /// frontier only up to Monte Carlo error) becomes the least plan, and the look goes on below it. All of them are
    /// waited for, so that the order of arrival decides nothing. Whether there is more to do at once.
    fn looked_below(&mut self) -> bool {
        let Some(found) = self.bracket.found() else {
            return true;
        };
        let below = found.saturating_sub(SMALLER_SHOWN)..found;
        for place in below.clone() {
            if self.run_at(place).is_none() {
                self.begin(place);
            }
        }
        let finished = |place| self.run_at(place).is_some_and(PlanRun::finished);
        if !below.clone().all(finished) {
            return false;
        }
        let reaches = |place: &usize| {
            self.run_at(*place)
                .is_some_and(|r| r.reaches_wanted(&self.scenario))
        };
        let Some(smaller) = below.clone().find(reaches) else {
            return false;
        };
        self.bracket.tell(smaller, true);
        true
    }

    fn begin(&mut self, place: usize) {
        let race = Race {
            wanted: self.scenario.question.wanted_power,
            error: RACE_ERROR,
        };
        if let Some(candidate) = self.screen.as_ref().and_then(|s| s.frontier.get(place)) {
            let size = Size::of(&candidate.plan);
            let run = PlanRun::raced(size, self.replicates, self.chunk, race);
            self.runs.push(run);
        }
    }

    pub(super) fn least(&self) -> Least {
        let screened = self.screen.as_ref().map_or(0, |s| s.plans);
        let mut least = Least {
            plan: None,
            test: None,
            power: None,
            false_alarm: None,
            fits: None,
            toll: None,
            cost: None,
            smaller: Vec::new(),
            shortfall: None,
            undecided_toll: None,
            half_exposure: None,
            screened,
            simulated: self.runs.len(),
            stopped: self.runs.iter().filter_map(PlanRun::stop).count(),
            surveys: self.runs.iter().map(PlanRun::used).sum(),
        };
        // Nothing is told of a plan whose smaller neighbours are not all simulated: one of them may be the least.
        if !self.finished() {
            return least;
        }
        let answer = |place| {
            self.run_at(place).map(|r| PlanAnswer {
                stopped: r.stop().map(|stop| Stopped::new(stop, r.replicates())),
                ..PlanAnswer::from(r.answer(&self.scenario))
            })
        };
        match self.bracket.found() {
            Some(found) => {
                if let (Some(a), Some(screen)) = (answer(found), &self.screen) {
                    least.undecided_toll = undecided_toll(&self.scenario, screen, found, &a.power);
                    least.half_exposure = Some(half_exposure(&self.scenario, &a.plan, &a.power));
                    least.plan = Some(a.plan);
                    least.test = Some(a.test);
                    least.power = Some(a.power);
                    least.false_alarm = Some(a.false_alarm);
                    least.fits = Some(a.fits);
                    least.toll = a.toll;
                    least.cost = a.cost;
                }
                least.smaller = (found.saturating_sub(SMALLER_SHOWN)..found)
                    .rev()
                    .filter_map(answer)
                    .collect();
            }
            None => {
                let last = self
                    .screen
                    .as_ref()
                    .map_or(0, |s| s.frontier.len())
                    .saturating_sub(1);
                least.shortfall = answer(last).map(|a| shortfall(&self.scenario, a));
            }
        }
        least
    }
}
