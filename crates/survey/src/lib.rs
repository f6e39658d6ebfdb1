//! The survey: scenario, count model, toll, closed forms, evaluation of one plan.
