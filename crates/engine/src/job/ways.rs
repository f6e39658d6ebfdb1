//! What the kinds of jobs do each in their own way. By pointers, so that a program that begins some kinds alone holds
//! nothing of the others.

use super::{Job, Kind, Report};
use crate::futures::{FUTURES as SHOWN, futures};
use crate::ignoring::Ignoring;
use crate::several;
use crate::task::Work;
use survey::summary::Curve;

/// A kind's own ways.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ways {
    /// Work that comes before surveys are simulated.
    pub first: fn(&mut Job) -> Option<Work>,
    /// Goes on after something was told.
    pub advance: fn(&mut Job),
    /// Whether all but the simulated surveys is there.
    pub finished: fn(&Job) -> bool,
    /// Works out a piece of the report; whether there was one left.
    pub prepare: fn(&Job) -> bool,
    /// What the job says now.
    pub report: fn(&Job) -> Report,
}

const SIMULATES: Ways = Ways {
    first: |_| None,
    advance: |_| {},
    finished: |_| true,
    prepare: |_| false,
    report: answer,
};

pub(super) const ANSWER: Ways = SIMULATES;

pub(super) const CURVE: Ways = Ways {
    prepare: |job| {
        let left = job.runs.iter().find(|r| r.finished() && !r.has_point());
        if let (Some(run), Kind::Curve { over, .. }) = (left, &job.kind) {
            run.point(&job.scenario, *over);
        }
        left.is_some()
    },
    report: curve,
    ..SIMULATES
};

pub(super) const LEAST: Ways = Ways {
    first: Job::closed_forms_wanted,
    advance: Job::advance,
    finished: Job::searched,
    prepare: Job::prepare_least,
    report: |job| Report::Least(Box::new(job.least())),
};

pub(super) const IGNORING: Ways = Ways {
    report: |job| Report::Ignoring(Ignoring::of(&job.scenario, &job.runs)),
    ..SIMULATES
};

pub(super) const FUTURES: Ways = Ways {
    first: |job| {
        let asked = std::mem::replace(&mut job.courses_asked, true);
        let count = SHOWN.min(job.replicates);
        (!asked).then_some(Work::Courses { count })
    },
    finished: |job| job.courses.is_some(),
    report: |job| {
        let courses = job.courses.clone().unwrap_or_default();
        let told = futures(&job.scenario, &job.runs[0], &courses);
        Report::Futures(Box::new(told))
    },
    ..SIMULATES
};

pub(super) const SEVERAL: Ways = Ways {
    report: |job| match several::of(&job.scenario, &job.runs) {
        Some(told) => Report::Several(Box::new(told)),
        None => unreachable!("a job of several species has several"),
    },
    ..SIMULATES
};

pub(super) const LOOKS: Ways = Ways {
    report: |job| match &job.looks {
        Some(planned) => Report::Looks(Box::new(planned.answer(&job.scenario, &job.runs))),
        None => unreachable!("a job of looks has planned them"),
    },
    ..SIMULATES
};

fn answer(job: &Job) -> Report {
    Report::Answer(Box::new(job.runs[0].answer(&job.scenario)))
}

fn curve(job: &Job) -> Report {
    let Kind::Curve { over, .. } = job.kind else {
        unreachable!("a job of a curve has an axis")
    };
    let points = job.runs.iter().map(|r| r.point(&job.scenario, over));
    let points = points.collect();
    Report::Curve(Curve { over, points })
}
