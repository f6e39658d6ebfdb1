//! The trap-weeks of a site-year: which are lost, and what the others add up to.

use super::losses::{Losses, Room, binomial};
use super::world::Generator;
use crate::season::WeekClass;
use numerics::maths::pow;
use numerics::random::Stream;

/// Sums over the trap-weeks of a site-year of season times trap point times gamma number.
#[derive(Default)]
pub(super) struct Split {
    /// Over trap-weeks counted.
    pub counted: f64,
    /// Over trap-weeks lost.
    pub lost: f64,
    /// Trap-weeks counted.
    pub trap_weeks: f64,
    /// What `counted` is made of, when asked for.
    pub parts: Option<Vec<Part>>,
}

/// What a site-year's losses hang on.
#[derive(Clone, Copy, Debug)]
pub(super) struct Lost {
    /// Its own share of losses; that of all when `None`.
    pub share: Option<f64>,
    /// The expected catch of a trap-week at the season's peak over the typical one.
    pub base: f64,
}

/// Trap-weeks of one law that add up to one number.
pub(super) struct Part {
    /// Place of the weeks' class in the list of classes.
    pub class: usize,
    /// Equal traps.
    pub traps: u32,
    /// Trap-weeks counted, of `traps` in each of the class' weeks.
    pub kept: u32,
    /// Their share of `counted`.
    pub sum: f64,
}

impl Split {
    fn keep(&mut self, class: usize, traps: u32, kept: u32, sum: f64) {
        self.counted += sum;
        self.trap_weeks += f64::from(kept);
        if let Some(parts) = &mut self.parts {
            parts.push(Part {
                class,
                traps,
                kept,
                sum,
            });
        }
    }
}

impl Generator {
    /// The trap-weeks of a site-year whose trap points have these effects (none: all equal).
    pub(super) fn split(
        &self,
        rng: &mut Stream,
        points: &[f64],
        classes: &[WeekClass],
        at: Lost,
        room: &mut Room,
        split: &mut Split,
    ) {
        let loss = at.share.unwrap_or(self.loss);
        if self.loss_power != 0.0 && self.loss > 0.0 {
            for t in 0..self.traps as usize {
                let point = points.get(t).copied().unwrap_or(1.0);
                self.one_by_one(
                    rng,
                    point,
                    classes,
                    Lost {
                        share: Some(loss),
                        ..at
                    },
                    split,
                );
            }
        } else if points.is_empty() {
            for (i, class) in classes.iter().enumerate() {
                let set = self.traps * class.weeks;
                let lost = if self.loss > 0.0 {
                    binomial(rng, set, loss)
                } else {
                    0
                };
                self.add(rng, i, class.weight, [self.traps, set - lost, lost], split);
            }
        } else {
            // Drawn for all traps at once, since few of their trap-weeks are lost.
            match at.share {
                None => self.losses.draw(rng, classes, room),
                Some(share) => {
                    let weeks: u32 = classes.iter().map(|c| c.weeks).sum();
                    Losses::new(share, self.traps * weeks).draw(rng, classes, room);
                }
            }
            for (t, &effect) in points.iter().enumerate() {
                for (i, class) in classes.iter().enumerate() {
                    let lost = room.lost(t * classes.len() + i);
                    let mean = class.weight * effect;
                    self.add(rng, i, mean, [1, class.weeks - lost, lost], split);
                }
            }
        }
    }

    /// Adds trap-weeks of class `class` and this mean, of so many traps, so many kept and so many lost.
    #[inline]
    fn add(
        &self,
        rng: &mut Stream,
        class: usize,
        mean: f64,
        [traps, kept, lost]: [u32; 3],
        split: &mut Split,
    ) {
        let scale = mean / self.target.k;
        if kept > 0 {
            split.keep(class, traps, kept, scale * self.gammas.draw(rng, kept));
        }
        if lost > 0 {
            split.lost += scale * self.gammas.draw(rng, lost);
        }
    }

    /// Adds one trap whose trap-weeks are lost the more often the more they caught: the odds of loss are those of the
    /// typical catch times (catch / typical)^power, where the catch is the Poisson mean with its gamma number.
    fn one_by_one(
        &self,
        rng: &mut Stream,
        effect: f64,
        classes: &[WeekClass],
        at: Lost,
        split: &mut Split,
    ) {
        let k = self.target.k;
        let loss = at.share.unwrap_or(self.loss);
        let odds = loss / (1.0 - loss);
        for (i, class) in classes.iter().enumerate() {
            let scale = class.weight * effect / k;
            for _ in 0..class.weeks {
                let sum = scale * self.gammas.draw(rng, 1);
                let share = 1.0 / (1.0 + 1.0 / (odds * pow(at.base * sum, self.loss_power)));
                if rng.uniform() < share {
                    split.lost += sum;
                } else {
                    split.keep(i, 1, 1, sum);
                }
            }
        }
    }
}
