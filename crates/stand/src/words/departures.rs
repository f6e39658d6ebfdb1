//! What else the world may do.

/// Years that follow each other.
pub const YEAR_AUTOCORRELATION: &str =
    "Above 0 a good year tends to follow a good one, below 0 a bad one; 0: every year by itself.";
/// Sites at their own pace.
pub const SITE_SLOPES: &str = "Sites rise and fall at their own pace around the common change (0.02 is common practice). More sites even it out, more traps and weeks do not.";
/// Neighbours.
pub const CORRELATION_LENGTH: &str = "Neighbours have good and bad years together: at this distance their correlation is 37 %; 0: every site by itself.";
/// The area of the sites.
pub const REGION: &str = "Only with such a distance: sites are spread evenly over this area, so more sites stand closer; along a gradient, on a line as long as its side.";
/// Weather.
pub const SHARED_WEEKS: &str = "A warm or wet week is one for all traps at all sites. More weeks even it out, more traps and sites do not.";
/// Traps that age.
pub const DETECTION_DRIFT: &str = "Traps that age, or a new hand, catch more or fewer of the same animals: -2 looks like a fall of 2 % a year. It changes the kills too.";
/// Full traps.
pub const LOSS_FOLLOWS_CATCH: &str = "Full traps spoil or are dug up more often: at 1 the odds of loss grow with the catch, at 2 with its square; 0: lost at random. At the typical catch of the season's peak the share lost is the one above.";
/// Early and late springs.
pub const SEASON_SHIFT: &str = "Early and late springs move the whole season, of target and by-catch, under weeks that stay: good and bad years that are none.";
/// Earlier and earlier springs.
pub const SEASON_TREND: &str = "A season that comes earlier decade by decade under weeks that stay looks like a change of the animals; below 0: later. 2.3 is the mean of many spring events (Parmesan & Yohe 2003, Nature 421:37; cited from memory).";
/// Cattle, floods and people.
pub const LOSS_CLUSTERING: &str = "Cattle, floods and people take whole sites: the correlation of losses within a site's year, 0: each trap-week by itself, near 1: all of a site's year or none. The share lost is the one above.";
/// Fold-out of all.
pub const TITLE: &str = "What else the world may do";
/// What stating them does.
pub const ABOUT: &str = "All 0 is the plain model. What is stated here changes the world, not the analysis: see what power and false alarms it then has.";

/// How many are stated, after the title.
pub fn stated(n: usize) -> String {
    match n {
        0 => String::new(),
        n => format!(" ({n} stated)"),
    }
}
