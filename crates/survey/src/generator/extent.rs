//! Parts of a survey: every unit has its own place in the random stream, so that the survey of a few sites and years is
//! part of the survey of more.

use super::world::Generator;

/// The first so many sites and years.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Extent {
    /// Sites.
    pub sites: usize,
    /// Years.
    pub years: usize,
}

impl Extent {
    /// Whether site `s` in year `y` is part of it, both from 0.
    #[inline]
    pub(super) fn has(self, s: usize, y: usize) -> bool {
        s < self.sites && y < self.years
    }

    /// The smallest extent that has both as its parts.
    pub fn with(self, other: Self) -> Self {
        Self {
            sites: self.sites.max(other.sites),
            years: self.years.max(other.years),
        }
    }
}

impl Generator {
    /// All sites and years of the plan.
    pub fn extent(&self) -> Extent {
        Extent {
            sites: self.sites,
            years: self.years,
        }
    }

    /// Whether what it draws has, in this part, just what a generator for the part alone would draw. Not so for fewer
    /// sites where the place of a site depends on how many there are: on a transect, and where sites are correlated by
    /// their distance; nor for fewer years where sites stand where an edge is expected until the last one; nor for any
    /// part of a revisit pattern, whose panels are those of all its sites and years.
    pub fn holds(&self, part: Extent) -> bool {
        if !self.returns.all_visited() && part != self.extent() {
            return false;
        }
        let edge = self.occupied.as_ref().is_some_and(|o| o.is_placed());
        let placed = self.response.is_placed() || edge || self.factor.is_some();
        let years = part.years == self.years || part.years < self.years && !self.followed;
        years && (part.sites == self.sites || part.sites < self.sites && !placed)
    }
}
