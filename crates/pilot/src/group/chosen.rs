//! Which model a group's counts can carry.

use super::Group;
use crate::model::{self, Spec, Weeks};
use crate::options::SiteYear;
use crate::season;
use models::glmm::{Fit, Terms};
use std::collections::BTreeSet;

/// Below so many sites or years their SD is only a rough guess, and a note says so.
const FEW_LEVELS: usize = 5;
/// 95 % point of chi-squared with 2 degrees of freedom: the season terms stay in when they matter that much.
const SEASON_MATTERS: f64 = 5.991_464_547_107_98;

/// A model with its fit, and the season that it tells.
pub(super) struct Chosen {
    pub fit: Fit,
    pub spec: Spec,
    pub curve: Option<season::Curve>,
}

impl Group<'_> {
    /// The richest model that the counts carry and that can be fitted.
    pub(super) fn choose(&mut self) -> Result<Chosen, String> {
        let weeks = self.weeks();
        let terms = self.terms();
        let season = weeks.is_some();
        let mut specs = vec![Spec { season, terms }];
        if season {
            let plain = Spec {
                season: false,
                terms,
            };
            specs.push(plain);
        }
        if terms.site_year && self.target == Some(SiteYear::Auto) {
            let fewer = Terms {
                site_year: false,
                ..terms
            };
            for s in specs.clone() {
                specs.push(Spec { terms: fewer, ..s });
            }
        }
        let mut why = String::new();
        for spec in specs {
            match model::fit(&self.counts.rows, spec, weeks) {
                Ok(fit) => return Ok(self.settle_season(fit, spec, weeks)),
                Err(e) => {
                    let season = if spec.season { " with a season" } else { "" };
                    let cells = if spec.terms.site_year {
                        " with the site-by-year term"
                    } else {
                        ""
                    };
                    if !(season.is_empty() && cells.is_empty()) {
                        self.note(&format!(
                            "the model{season}{cells} cannot be fitted ({e}); a simpler one is tried."
                        ));
                    }
                    why = e;
                }
            }
        }
        Err(why)
    }

    fn weeks(&mut self) -> Option<Weeks> {
        let weeks = Weeks::of(&self.counts.rows);
        match weeks {
            None => self.note_of_layout("the file tells no weeks, so nothing of the season: a scenario keeps its own peak week."),
            Some(_) if season::over_new_year(&self.counts.rows) => self.note_of_layout(
                "the weeks run over the turn of the year: no season is fitted, and a scenario keeps its own peak week.",
            ),
            Some(w) if w.distinct < season::FEWEST_WEEKS => self.note_of_layout(&format!(
                "{} different weeks are too few for a season (at least {}).",
                w.distinct,
                season::FEWEST_WEEKS
            )),
            Some(w) => return Some(w),
        }
        None
    }

    /// Random terms that the layout of the counts can tell apart.
    fn terms(&mut self) -> Terms {
        let rows = &self.counts.rows;
        let sites: BTreeSet<usize> = rows.iter().map(|r| r.site).collect();
        let years: BTreeSet<usize> = rows.iter().map(|r| r.year).collect();
        let cells: BTreeSet<(usize, usize)> = rows.iter().map(|r| (r.site, r.year)).collect();
        let site = sites.len() > 1 && rows.len() > sites.len();
        let year = years.len() > 1 && rows.len() > years.len();
        if sites.len() < 2 {
            self.note_of_layout("one site: the SD of sites is common practice.");
        } else if !site {
            self.note_of_layout("one count for each site: differences between sites cannot be told from those between counts. The SD of sites is common practice, and k holds both (too small).");
        } else if sites.len() < FEW_LEVELS {
            self.note_of_layout(&format!(
                "only {} sites: the SD of sites is a rough guess.",
                sites.len()
            ));
        }
        if years.len() < 2 {
            self.note_of_layout("one year: the SD of years is common practice.");
        } else if !year {
            self.note_of_layout("one count for each year: the SD of years is common practice, and k holds the differences between years too (too small).");
        } else if years.len() < FEW_LEVELS {
            self.note_of_layout(&format!(
                "only {} years: the SD of years is a rough guess, and maximum likelihood makes it too small rather than too large.",
                years.len()
            ));
        }
        let told = year && site && rows.len() > cells.len() && cells.len() > sites.len();
        let site_year = match self.target {
            None | Some(SiteYear::Off) => false,
            Some(SiteYear::On) => told,
            Some(SiteYear::Auto) => told && sites.len() > 2,
        };
        match self.target {
            None => {}
            Some(SiteYear::Off) => self.note("the site-by-year term is switched off: its SD is common practice, and k holds what there is of it."),
            Some(_) if site_year => self.note("the site-by-year term is in the model."),
            Some(_) if !year => self.note("without several years the SD of a site's own year is common practice."),
            Some(_) if rows.len() == cells.len() => self.note("one count for each site and year: a site's own year cannot be told from the spread of counts. Its SD is common practice, and k holds both."),
            Some(_) => self.note("too few sites with several years for a site's own year: its SD is common practice."),
        }
        Terms {
            site,
            year,
            site_year,
        }
    }

    /// Keeps the curve where there is one; season terms without a peak stay only when they matter to the fit.
    fn settle_season(&mut self, fit: Fit, spec: Spec, weeks: Option<Weeks>) -> Chosen {
        let (Some(w), true) = (weeks, spec.season) else {
            let curve = None;
            return Chosen { fit, spec, curve };
        };
        let why = match season::curve(&fit, &w) {
            Ok(c) => {
                let curve = Some(c);
                return Chosen { fit, spec, curve };
            }
            Err(why) => why,
        };
        self.note(&format!("no season is told: {why}."));
        let curve = None;
        let plain = Spec {
            season: false,
            ..spec
        };
        match model::fit(&self.counts.rows, plain, weeks) {
            Ok(without) if 2.0 * (fit.log_likelihood - without.log_likelihood) < SEASON_MATTERS => {
                Chosen {
                    fit: without,
                    spec: plain,
                    curve,
                }
            }
            _ => {
                self.note(
                    "week and its square stay in the model, since catches do change with the week.",
                );
                Chosen { fit, spec, curve }
            }
        }
    }
}
