//! Which sites are visited in which years.
//!
//! The designs are those of Urquhart, Paulsen & Larsen 1998 (Ecol. Appl. 8:246) and Urquhart & Kincaid 1999 (J. Agric.
//! Biol. Environ. Stat. 4:404). `plan.sites` counts the different sites of all years together; the sites of one year are
//! fewer, and told beside it ([`Plan::most_sites_in_a_year`]).

use super::plan::Plan;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Which sites are visited in which years; every site in every year when left out.
///
/// Turns are the years in which anybody traps, one after the other: years left out (`gap_years`) are not among them, so
/// that the next panel takes its turn after a gap.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Revisit {
    /// All sites in the first year and in every so many-th year from then on.
    EveryK {
        /// From one year of trapping to the next.
        years: u32,
    },
    /// Sites are divided into panels of equal size that take turns: each panel is visited every so many-th turn.
    Alternating {
        /// Number of panels.
        panels: u32,
    },
    /// Some sites at every turn, the others in panels that take turns.
    Augmented {
        /// Sites visited at every turn.
        always: u32,
        /// Number of panels of the others.
        panels: u32,
    },
    /// At every turn as many sites enter as leave, and each stays for so many turns in a row; those of the first and the
    /// last turns had begun before, or would go on after.
    Rotating {
        /// Turns in a row that a site stays.
        stay: u32,
    },
    /// Some sites at every turn, the others new at each.
    Split {
        /// Sites visited at every turn.
        always: u32,
    },
    /// All sites new at every turn.
    NewEachYear,
}

impl Revisit {
    /// Its key in files.
    pub fn key(self) -> &'static str {
        match self {
            Self::EveryK { .. } => "every_k",
            Self::Alternating { .. } => "alternating",
            Self::Augmented { .. } => "augmented",
            Self::Rotating { .. } => "rotating",
            Self::Split { .. } => "split",
            Self::NewEachYear => "new_each_year",
        }
    }

    /// Sites visited at every turn besides the panels.
    pub fn always(self) -> u32 {
        match self {
            Self::Augmented { always, .. } | Self::Split { always } => always,
            _ => 0,
        }
    }

    /// Into how many panels the other sites are divided over so many turns.
    pub fn panels(self, turns: u32) -> u32 {
        match self {
            Self::EveryK { .. } => 1,
            Self::Alternating { panels } | Self::Augmented { panels, .. } => panels,
            Self::Rotating { stay } => turns + stay - 1,
            Self::Split { .. } | Self::NewEachYear => turns,
        }
    }

    /// Whether panel `panel` is visited at turn `turn`, both from 0.
    fn takes(self, panel: u32, turn: u32) -> bool {
        match self {
            Self::EveryK { .. } => true,
            Self::Alternating { panels } | Self::Augmented { panels, .. } => turn % panels == panel,
            // Panel c enters at turn c - (stay - 1) and leaves after turn c.
            Self::Rotating { stay } => panel >= turn && panel < turn + stay,
            Self::Split { .. } | Self::NewEachYear => panel == turn,
        }
    }
}

impl Plan {
    /// Whether every site is visited in every year.
    pub fn all_every_year(&self) -> bool {
        self.revisit.is_none() && self.gap_years.is_empty()
    }

    /// Whether anybody traps in year `year`, from 0.
    pub fn traps_in(&self, year: u32) -> bool {
        let turn = match self.revisit {
            Some(Revisit::EveryK { years }) => year.is_multiple_of(years.max(1)),
            _ => true,
        };
        turn && !self.gap_years.contains(&(year + 1))
    }

    /// Number of years in which anybody traps.
    pub fn turns(&self) -> u32 {
        (0..self.years).filter(|&y| self.traps_in(y)).count() as u32
    }

    /// The years in which anybody traps, from 0.
    pub fn years_of_trapping(&self) -> Vec<u32> {
        (0..self.years).filter(|&y| self.traps_in(y)).collect()
    }

    /// Whether site `site` is visited in year `year`, both from 0.
    pub fn visited(&self, site: u32, year: u32) -> bool {
        if self.all_every_year() {
            return true;
        }
        if !self.traps_in(year) {
            return false;
        }
        let Some(revisit) = self.revisit else {
            return true;
        };
        match self.panel_of(site) {
            Some(panel) => {
                let turn = (0..year).filter(|&y| self.traps_in(y)).count() as u32;
                revisit.takes(panel, turn)
            }
            None => true,
        }
    }

    /// For each site and year (`site * years + year`) whether it is visited; empty when all are.
    pub fn visits_made(&self) -> Vec<bool> {
        if self.all_every_year() {
            return Vec::new();
        }
        let turn_of: Vec<Option<u32>> = (0..self.years)
            .scan(0, |next, y| {
                let turn = self.traps_in(y).then_some(*next);
                *next += u32::from(turn.is_some());
                Some(turn)
            })
            .collect();
        let mut out = Vec::with_capacity((self.sites * self.years) as usize);
        for s in 0..self.sites {
            let panel = self.panel_of(s);
            out.extend(
                turn_of
                    .iter()
                    .map(|turn| match (turn, panel, self.revisit) {
                        (Some(turn), Some(panel), Some(revisit)) => revisit.takes(panel, *turn),
                        (turn, _, _) => turn.is_some(),
                    }),
            );
        }
        out
    }

    /// Sites visited in year `year`, from 0.
    pub fn sites_in_year(&self, year: u32) -> u32 {
        (0..self.sites).filter(|&s| self.visited(s, year)).count() as u32
    }

    /// Sites of the years with the most.
    pub fn most_sites_in_a_year(&self) -> u32 {
        if self.all_every_year() {
            return self.sites;
        }
        let years = 0..self.years;
        years.map(|y| self.sites_in_year(y)).max().unwrap_or(0)
    }

    /// Site-years visited.
    pub fn site_years(&self) -> u32 {
        if self.all_every_year() {
            return self.sites * self.years;
        }
        (0..self.years).map(|y| self.sites_in_year(y)).sum()
    }

    /// Whether any site is visited in more than one year: only then can sites be told from their years.
    pub fn comes_back(&self) -> bool {
        let turns = self.turns();
        let back = match self.revisit {
            None | Some(Revisit::EveryK { .. }) => true,
            Some(Revisit::Alternating { panels }) => panels < turns,
            Some(Revisit::Augmented { always, panels }) => always > 0 || panels < turns,
            Some(Revisit::Rotating { stay }) => stay > 1,
            Some(Revisit::Split { always }) => always > 0,
            Some(Revisit::NewEachYear) => false,
        };
        back && turns > 1
    }

    /// Whether the sites of each year can be compared with those of every other one by sites that the two, or years
    /// between, have in common.
    pub fn years_hang_together(&self) -> bool {
        match self.revisit {
            None | Some(Revisit::EveryK { .. }) => true,
            Some(Revisit::Alternating { panels }) => panels == 1,
            Some(Revisit::Rotating { stay }) => stay > 1,
            Some(Revisit::Augmented { always, .. } | Revisit::Split { always }) => always > 0,
            Some(Revisit::NewEachYear) => false,
        }
    }

    /// The panel of a site, from 0; `None` when it is visited at every turn. Sites of all kinds (treated or not) are
    /// spread over the panels, and neighbours on a transect stand in different ones; the two sites of a pair stand in the same.
    pub fn panel_of(&self, site: u32) -> Option<u32> {
        let revisit = self.revisit?;
        let (place, units, each) = match &self.groups {
            Some(g) if g.paired => (site / 2, self.sites / 2, 2),
            Some(g) => {
                // Untreated sites first, then the treated ones: what is spread over this list is spread over both.
                let treated = g.treated_of(site);
                let place = if g.treats(site) {
                    self.sites - g.treated_of(self.sites) + treated
                } else {
                    site - treated
                };
                (place, self.sites, 1)
            }
            None => (site, self.sites, 1),
        };
        let always = u64::from(revisit.always() / each);
        let upto = |place: u32| (u64::from(place) * always / u64::from(units.max(1))) as u32;
        let before = upto(place);
        if upto(place + 1) > before {
            return None;
        }
        Some((place - before) % revisit.panels(self.turns()).max(1))
    }

    /// Whether so many sites can be divided as the pattern wants them.
    pub fn fits_pattern(&self, sites: u32) -> bool {
        let Some(revisit) = self.revisit else {
            return true;
        };
        let step = self.pattern_step();
        sites >= self.fewest_for_pattern() && (sites - revisit.always()).is_multiple_of(step)
    }

    /// By how many the number of sites can change.
    pub fn pattern_step(&self) -> u32 {
        let paired = self.groups.as_ref().is_some_and(|g| g.paired);
        let each = if paired { 2 } else { 1 };
        let panels = self.revisit.map_or(1, |r| r.panels(self.turns()));
        panels.max(1) * each
    }

    /// The fewest sites that the pattern can be made of.
    pub fn fewest_for_pattern(&self) -> u32 {
        self.revisit.map_or(1, |r| r.always() + self.pattern_step())
    }

    /// The plan over another number of years with as many sites in a year, as near as whole panels allow.
    pub fn over_years(&self, years: u32) -> Self {
        let other = Self {
            years,
            ..self.clone()
        };
        let Some(revisit) = self.revisit else {
            return other;
        };
        // Sites of one panel stay as they are.
        let one = (self.sites.saturating_sub(revisit.always())) / self.pattern_step();
        Self {
            sites: revisit.always() + one * other.pattern_step(),
            ..other
        }
    }
}

impl Plan {
    /// The plan with another pattern: with as many different sites, or as many fewer as whole panels need, and the fewest
    /// that the pattern can be made of where there are not so many.
    pub fn with_revisit(&self, revisit: Option<Revisit>) -> Self {
        let mut other = Self {
            revisit,
            ..self.clone()
        };
        if revisit.is_some() && !other.fits_pattern(self.sites) {
            let (fewest, step) = (other.fewest_for_pattern(), other.pattern_step());
            other.sites = fewest + self.sites.saturating_sub(fewest) / step * step;
        }
        other
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::{Groups, read};

    fn plan(revisit: Option<Revisit>, sites: u32, years: u32) -> Plan {
        let s = read(include_str!("../../../../demo-data/meadow-beetles.json")).unwrap();
        Plan {
            revisit,
            sites,
            years,
            ..s.plan
        }
    }

    fn calendar(plan: &Plan) -> Vec<String> {
        let made = plan.visits_made();
        let rows = made.chunks_exact(plan.years as usize).enumerate();
        rows.map(|(s, row)| {
            let years = row.iter().enumerate();
            years
                .map(|(y, v)| {
                    assert_eq!(*v, plan.visited(s as u32, y as u32), "{plan:?}: {s} {y}");
                    if *v { 'x' } else { '.' }
                })
                .collect()
        })
        .collect()
    }

    #[test]
    fn calendars() {
        let every = Some(Revisit::EveryK { years: 3 });
        assert_eq!(calendar(&plan(every, 2, 7)), ["x..x..x"; 2]);
        let alternating = Some(Revisit::Alternating { panels: 2 });
        assert_eq!(
            calendar(&plan(alternating, 4, 5)),
            ["x.x.x", ".x.x.", "x.x.x", ".x.x."]
        );
        let augmented = Some(Revisit::Augmented {
            always: 1,
            panels: 2,
        });
        assert_eq!(calendar(&plan(augmented, 3, 4)), ["x.x.", ".x.x", "xxxx"]);
        let rotating = Some(Revisit::Rotating { stay: 2 });
        assert_eq!(
            calendar(&plan(rotating, 4, 3)),
            ["x..", "xx.", ".xx", "..x"]
        );
        let split = Some(Revisit::Split { always: 1 });
        assert_eq!(calendar(&plan(split, 4, 3)), ["x..", ".x.", "..x", "xxx"]);
        assert_eq!(
            calendar(&plan(Some(Revisit::NewEachYear), 3, 3)),
            ["x..", ".x.", "..x"]
        );
        // After a gap the next panel takes its turn.
        let mut gap = plan(alternating, 2, 5);
        gap.gap_years = vec![2];
        assert_eq!(calendar(&gap), ["x..x.", "..x.x"]);
        gap.revisit = None;
        assert_eq!(calendar(&gap), ["x.xxx"; 2]);
        assert_eq!((gap.turns(), gap.site_years()), (4, 8));
    }

    /// Panels are of equal size whatever share is treated, hold both kinds as evenly as can be, and keep pairs together.
    #[test]
    fn groups_are_spread_over_panels() {
        for (share, always, panels, sites) in [
            (0.5, 0, 4, 40),
            (0.3, 10, 3, 40),
            (0.25, 4, 6, 100),
            (1.0 / 3.0, 0, 7, 49),
        ] {
            let revisit = if always == 0 {
                Revisit::Alternating { panels }
            } else {
                Revisit::Augmented { always, panels }
            };
            let mut p = plan(Some(revisit), sites, 12);
            let groups = Groups {
                treated_share: share,
                paired: false,
                before_years: 0,
            };
            p.groups = Some(groups.clone());
            assert!(p.fits_pattern(sites) && !p.fits_pattern(sites + 1));
            let (mut all, mut treated) = (vec![0; panels as usize], vec![0; panels as usize]);
            let mut kept = (0, 0);
            for s in 0..sites {
                let is = u32::from(groups.treats(s));
                match p.panel_of(s) {
                    Some(j) => {
                        all[j as usize] += 1;
                        treated[j as usize] += is;
                    }
                    None => kept = (kept.0 + 1, kept.1 + is),
                }
            }
            assert!(
                all.iter().all(|n| *n == (sites - always) / panels),
                "{all:?}"
            );
            let (low, high) = (treated.iter().min().unwrap(), treated.iter().max().unwrap());
            assert!(high - low <= 1, "{treated:?}");
            assert_eq!(kept.0, always);
            assert!((f64::from(kept.1) - share * f64::from(always)).abs() <= 1.0);
        }
        let mut p = plan(Some(Revisit::Alternating { panels: 3 }), 12, 6);
        p.groups = Some(Groups {
            treated_share: 0.5,
            paired: true,
            before_years: 0,
        });
        assert_eq!(p.pattern_step(), 6);
        for pair in 0..6 {
            assert_eq!(p.panel_of(2 * pair), p.panel_of(2 * pair + 1));
        }
    }

    /// Over other years there are as many sites in a year, whatever the number of different ones.
    #[test]
    fn as_many_sites_in_a_year() {
        for (revisit, sites) in [
            (Revisit::Rotating { stay: 4 }, 75),
            (Revisit::NewEachYear, 240),
            (Revisit::Split { always: 10 }, 130),
            (Revisit::Alternating { panels: 4 }, 80),
        ] {
            let p = plan(Some(revisit), sites, 12);
            for years in [6, 9, 15] {
                let other = p.over_years(years);
                assert!(other.fits_pattern(other.sites), "{revisit:?} {years}");
                assert_eq!(other.most_sites_in_a_year(), 20, "{revisit:?} {years}");
            }
        }
    }
}
