//! How the numbers are made: the method sheet, with the measured false alarms of every test.

use crate::number::{count, decimals};
use figures::Table;
use figures::locale::{pointed, retold};
use survey::scenario::Test;

/// The kept table of false alarms, as `cargo xtask bench size` writes it.
const SIZE: &str = include_str!("../../../tests/reference/size/size.csv");

/// How many surveys without a change stand behind each cell, and in which worlds.
pub const SIZE_CAPTION: &str = "Share of surveys in which nothing changes that raise a false alarm, where 5 % are accepted: 4,000 surveys in each of 144 worlds (10, 30 and 100 sites; 5, 8, 10 and 20 years; SD of shared years 0, 0.1, 0.2 and 0.4; dispersion k 0.5, 2 and Poisson; 12 animals a site-year, SD of sites 0.8)";

/// The column of critical values calibrated at a year SD of .2, whatever that of the world.
const BELIEVED: &str = "calibrated_at_believed";

/// The columns of the kept table with their names here, the default first.
const COLUMNS: [(&str, &str); 9] = [
    (
        "calibrated",
        "calibrated by simulation (each tenth judged by the other nine)",
    ),
    (
        BELIEVED,
        "calibrated, but wrongly believing the SD of years to be 0.2",
    ),
    ("annual_index", "regression of yearly means"),
    ("restricted_t", "t, restricted likelihood"),
    ("ml_t", "t, maximum likelihood"),
    ("satterthwaite", "t, Satterthwaite's degrees of freedom"),
    ("restricted_z", "z, restricted likelihood"),
    ("ml_z", "z, maximum likelihood"),
    ("likelihood_ratio", "likelihood ratio"),
];

/// Lowest and highest share that counts as holding the level.
const HOLDS: std::ops::RangeInclusive<f64> = 0.04..=0.06;

/// The sheet's sentences.
pub const SENTENCES: [&str; 14] = [
    "Each simulated survey draws sites, years, traps, weeks, losses and counts from the premises, once with the stated change and once without any, and analyses the catches as planned.",
    "The analysis is a mixed model of the counts (negative binomial or Poisson) with sites and years as random effects, fitted by Laplace's approximation; standard errors come from the full observed information. A spread estimated as 0 is an answer and is used. A fit that fails counts as nothing found, in power and in false alarms alike, and is counted beside them.",
    "The power's 95 % interval holds the luck of the simulation and, for the calibrated test, what is not known of its critical value. It does not hold what the premises do not know.",
    "No closed test of the mixed model holds its level everywhere, as the table shows: z raises up to 4.3 times the accepted false alarms, the likelihood ratio and Satterthwaite's t up to 3.2 times; t with few degrees of freedom raises far fewer than accepted when years are alike. So the critical value is taken from simulated surveys without a change, by default.",
    "A calibrated value is as good as the premises. Where the SD of shared years is really 0.4, and 0.2 was believed, at most 8.4 % of surveys raise a false alarm in place of 5 %; where it is really 0, fewer do, often far fewer, and less is found.",
    "The regression of yearly means holds its level whatever the SD of years; it finds somewhat less, and answers the questions of a decline and of no worse a fall in site-year totals alone.",
    "Two groups of sites: the same mixed model, with the group, or group, period and their product (before and after), in place of the year; pairs add random effects of the pair and of its years. Good and bad years that all sites share drop out. The table of sizes is of declines: with groups t holds its level where there are two years or more, and raises up to about 8 % false alarms with a single one.",
    "No worse a fall: the world without the effect is the one in which the fall is just the margin, and a false alarm is the claim made there.",
    "Occupied sites: occupancy and the chance of detection are fitted together to the weeks with and without a catch (maximum likelihood; MacKenzie et al. 2002, Ecology 83:2248). Where a year's occupancy is estimated as none or all there is no standard error, and the likelihood ratio stands for it. The chance of detection is not a premise: it follows from the premises of the catch. Where sites are closed early, what they would still have killed is spared; of by-catch the average share of the weeks left out.",
    "Edge of a range: sites beyond the edge are occupied ever more rarely. Either whether anything was caught at a site in a year is fitted by place and year (binomial mixed model), or occupancy and detection together; the move is the ratio of two coefficients, with its error by the delta method or by profile likelihood. Both take a site's years to be independent given the site: where sites stay as they are from year to year, z, t and the likelihood ratio raise far too many false alarms (up to a fifth of surveys where a quarter of the sites change hands), and only the calibrated test holds its level.",
    "Baseline: the mean over sites of their catch a trap-week, with an interval on the log scale from how much sites differ. Catches are skewed, so that intervals of few and uneven sites miss the truth more often than accepted, up to one in ten; the share is shown.",
    "Inventory: the pilot's community, completed for species not seen (Chao et al. 2014, Ecol. Monogr. 84:45), is believed; the catch is split into its species. Clumped catches make a survey's own estimate of its completeness too hopeful.",
    "Several species: each has its own premises and its own luck; years they share are not simulated. Controlled power is that of Bonferroni, Holm (1979, Scand. J. Stat. 6:65) or Benjamini and Hochberg (1995, J. R. Stat. Soc. B 57:289).",
    "Absence: the survey answers when it catches one animal at least. Sites, years and traps multiply the stated mean density by lognormal numbers; catches clump as the dispersion says.",
];

/// One cell: its world, and the shares by column of the kept table.
struct Cell {
    sites: String,
    years: String,
    k: String,
    year_sd: String,
    shares: Vec<f64>,
}

fn header() -> Vec<&'static str> {
    SIZE.lines().next().unwrap_or("").split(',').collect()
}

fn cells() -> Vec<Cell> {
    let of = |line: &str| -> Option<Cell> {
        let v: Vec<&str> = line.split(',').collect();
        Some(Cell {
            sites: (*v.first()?).into(),
            years: (*v.get(1)?).into(),
            k: (*v.get(2)?).into(),
            year_sd: (*v.get(3)?).into(),
            shares: v
                .get(5..)?
                .iter()
                .map(|s| s.parse().unwrap_or(f64::NAN))
                .collect(),
        })
    };
    SIZE.lines().skip(1).filter_map(of).collect()
}

fn column(key: &str) -> Option<usize> {
    header().iter().position(|h| *h == key)?.checked_sub(5)
}

/// A share in per cent, marked where it does not hold the level.
fn marked(share: f64) -> String {
    let text = format!("{} %", decimals(100.0 * share, 1));
    if HOLDS.contains(&share) {
        text
    } else if share < *HOLDS.start() {
        format!("{text} ↓ too few")
    } else {
        format!("{text} ↑ too many")
    }
}

/// One line for each test: its lowest and highest false alarms over all cells.
pub fn size_summary() -> Table {
    let cells = cells();
    let line = |(key, name): &(&str, &str)| -> Option<Vec<String>> {
        let at = column(key)?;
        // Where the belief is right the value is calibrated like any other.
        let counts = |c: &&Cell| *key != BELIEVED || c.year_sd != "0.2";
        let own = || cells.iter().filter(counts);
        let shares = || own().filter_map(|c| c.shares.get(at).copied());
        let low = shares().fold(f64::INFINITY, f64::min);
        let high = shares().fold(0.0, f64::max);
        let held = shares().filter(|s| HOLDS.contains(s)).count();
        Some(vec![
            retold(name),
            marked(low),
            marked(high),
            format!("{held} of {}", own().count()),
        ])
    };
    Table {
        caption: retold(SIZE_CAPTION),
        headers: ["test", "lowest", "highest", "worlds within 4 to 6 %"]
            .map(String::from)
            .to_vec(),
        rows: COLUMNS.iter().filter_map(line).collect(),
    }
}

/// The dispersions of the study, as they are named.
pub const DISPERSIONS: [&str; 3] = ["0.5", "2", "Poisson"];

/// All cells of one dispersion.
pub fn size_cells(k: &str) -> Table {
    let places: Vec<usize> = COLUMNS.iter().filter_map(|(key, _)| column(key)).collect();
    let world = ["sites", "years", "SD of years"].map(String::from);
    let names = COLUMNS.iter().map(|(_, name)| retold(name));
    let line = |c: Cell| -> Vec<String> {
        let shares = places.iter().filter_map(|&at| c.shares.get(at).copied());
        [c.sites, c.years, pointed(&c.year_sd)]
            .into_iter()
            .chain(shares.map(marked))
            .collect()
    };
    Table {
        caption: format!(
            "False alarms with dispersion {}, {} surveys a line",
            pointed(k),
            count(4000.0)
        ),
        headers: world.into_iter().chain(names).collect(),
        rows: cells().into_iter().filter(|c| c.k == k).map(line).collect(),
    }
}

/// The tests with what is said of them.
pub fn tests() -> Vec<(&'static str, &'static str)> {
    let of = |t| (crate::sentences::test(t), crate::sentences::about_test(t));
    Test::ALL.map(of).to_vec()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_column_and_cell_is_shown() {
        assert_eq!(size_summary().rows.len(), COLUMNS.len());
        let held: Vec<String> = size_summary()
            .rows
            .into_iter()
            .map(|r| r[3].clone())
            .collect();
        assert_eq!(held[..2], ["144 of 144", "45 of 108"]);
        let rows: usize = DISPERSIONS.iter().map(|k| size_cells(k).rows.len()).sum();
        assert_eq!(rows, 144);
        assert!(
            size_cells("2")
                .rows
                .iter()
                .all(|r| r.len() == 3 + COLUMNS.len())
        );
    }

    /// The sentences say what the table says.
    #[test]
    fn sentences_follow_from_the_table() {
        let worst = |key: &str, year_sd: &str| {
            let at = column(key).unwrap();
            let of = cells().into_iter().filter(|c| c.year_sd == year_sd);
            of.map(|c| c.shares[at]).fold(0.0, f64::max)
        };
        assert!((worst("calibrated_at_believed", "0.4") - 0.084).abs() < 5e-4);
        assert!(worst("calibrated_at_believed", "0") < 0.05);
        for sd in ["0", "0.1", "0.2", "0.4"] {
            assert!(worst("annual_index", sd) <= 0.06 && worst("calibrated", sd) <= 0.06);
            assert!(worst("ml_z", sd) < 0.22 && worst("likelihood_ratio", sd) < 0.2);
        }
        // Times the accepted 5 %, as the sentences round them.
        let most = |key: &str| {
            let of = ["0", "0.1", "0.2", "0.4"].map(|sd| worst(key, sd));
            (of.into_iter().fold(0.0, f64::max) / 0.005).round() / 10.0
        };
        assert_eq!((most("ml_z"), most("satterthwaite")), (4.3, 3.2));
        assert!(most("likelihood_ratio") <= 3.2 && most("restricted_z") <= 4.3);
    }
}
