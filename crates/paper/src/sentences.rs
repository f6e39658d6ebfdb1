//! The plain sentences: question, plan, answer, least plan.

mod analysis;
mod baseline;
mod change;
mod claim;
mod ignoring;
mod inventory;
mod least;
mod occupancy;
mod own;
mod plan;
mod question;
mod range_shift;
mod reproductives;
mod several;
mod ways;

pub use analysis::{
    about_test, held_by_calibration, no_worse, stand_in, stand_in_so_far, test, test_note,
};
pub use baseline::INTERVAL;
pub use change::{
    Smallest, false_alarms, found, otherwise, smallest, smallest_name, smallest_preview,
    still_world, with_effect, without_effect,
};
pub use claim::claim;
pub use ignoring::{NOTHING_TO_IGNORE, cost, costs_table, how_told, known};
pub use inventory::{animals, further, inventory, reach, species_range};
pub use least::{binding, fewer, missed, search_space, standing_of_smaller, worth_of_smaller};
pub use occupancy::occupancy;
pub use own::own;
pub use plan::{days_a_week, in_weeks, plan, weeks};
pub use question::question;
pub use range_shift::{placing, range_shift};
pub use reproductives::reproductives;
pub use several::{
    INDEPENDENT, about_control, asked_of_several, control, least_of_list, list_verdict,
    one_of_several, several, species_table,
};
pub use ways::{scheme, way};

use crate::departures;
use crate::number::{count, decimals, percent, percent_fine, plain, rounded};

use survey::closed_form::power_at_stated;
use survey::scenario::{Class, Effect, GradientUnit, Premise, Scenario};
use survey::summary::{Answer, GroupToll, Share, Spread, Toll};

/// Unit and direction word of a shift.
pub fn shift_words(scenario: &Scenario, distance: f64) -> (&'static str, &'static str) {
    let unit = scenario
        .premises
        .gradient
        .as_ref()
        .map_or(GradientUnit::Metres, |g| g.unit);
    let way = match (unit, distance >= 0.0) {
        (GradientUnit::Metres, true) => "upwards",
        (GradientUnit::Metres, false) => "downwards",
        (GradientUnit::Kilometres, true) => "northwards",
        (GradientUnit::Kilometres, false) => "southwards",
    };
    (unit.symbol(), way)
}

/// A toll with its interval.
pub fn spread(s: &Spread) -> String {
    format!("{} ({} to {})", count(s.mean), count(s.low), count(s.high))
}

/// A group's toll with its interval, and what a catch of 0 in the pilot does not exclude.
pub fn group(g: &GroupToll) -> String {
    let text = format!("{} ({} to {})", count(g.mean), count(g.low), count(g.high));
    match g.not_excluded {
        Some(n) => format!("{text}; up to {} not excluded", count(n)),
        None => text,
    }
}

/// A class in words.
pub fn class(c: Class) -> &'static str {
    match c {
        Class::Arthropod => "arthropods",
        Class::Vertebrate => "vertebrates",
        Class::Protected => "protected",
    }
}

/// How many surveys of 100 would find the change, what it costs in lives: one plain sentence.
pub fn verdict(scenario: &Scenario, answer: &Answer) -> String {
    if answer.power.replicates == 0 {
        return "Nothing simulated yet.".into();
    }
    let judged = if is_trusted(scenario, answer) {
        answers(scenario, answer)
    } else if baseline::is_asked(scenario) {
        "This plan's answer could not be trusted: more than twice as many of its intervals miss the truth as accepted.".into()
    } else if matches!(scenario.question.effect, Effect::Inventory(_)) {
        "Such surveys could not be trusted to know it: too many would claim the share without having reached it.".into()
    } else {
        "This plan's answer could not be trusted: its analysis raises too many false alarms.".into()
    };
    // A significant change the wrong way does not find the stated one.
    let wrong = answer.significant.wrong_sign.unwrap_or(0.0);
    let right = answer.power.estimate * (1.0 - wrong);
    let of_100 = if right > 0.0 && right < 0.005 {
        "fewer than 1".to_string()
    } else if (0.995..1.0).contains(&right) {
        "more than 99".to_string()
    } else {
        format!("{:.0}", 100.0 * right)
    };
    let kill = answer
        .toll
        .as_ref()
        .map_or(String::new(), |t| kill(scenario, t));
    let found = change::found(scenario);
    let judged =
        several::alone(scenario).map_or(judged.clone(), |alone| format!("{alone} {judged}"));
    format!("{judged} Of 100 surveys like this {of_100} {found}.{kill}")
}

/// A text that begins a sentence.
pub(crate) fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars
        .next()
        .map_or(String::new(), |c| c.to_uppercase().chain(chars).collect())
}

/// Whether no more false alarms are raised than accepted, or of a baseline no far more intervals miss.
fn is_trusted(scenario: &Scenario, answer: &Answer) -> bool {
    if baseline::is_asked(scenario) {
        !baseline::far_off(scenario, answer)
    } else {
        answer.false_alarm.low <= scenario.question.significance
    }
}

/// Whether the power is the wanted one, and how surely.
fn answers(scenario: &Scenario, answer: &Answer) -> String {
    let wanted = scenario.question.wanted_power;
    match surely(scenario, answer) {
        Some(true) => "The plan answers the question.".into(),
        Some(false) => "The plan does not answer the question.".into(),
        None => {
            let does = if answer.power.estimate >= wanted {
                "reaches"
            } else {
                "falls short of"
            };
            format!(
                "Too close to call: by its estimate of {} the plan {does} the wanted power of {}, within Monte Carlo error; more simulated surveys would settle it.",
                percent_fine(answer.power.estimate),
                percent(wanted)
            )
        }
    }
}

/// Whether the plan answers; `None` while the simulated surveys leave it open.
pub fn surely(scenario: &Scenario, answer: &Answer) -> Option<bool> {
    let wanted = scenario.question.wanted_power;
    let trusted = is_trusted(scenario, answer);
    if trusted && answer.power.low >= wanted {
        Some(true)
    } else if !trusted || answer.power.high < wanted {
        Some(false)
    } else {
        None
    }
}

fn kill(scenario: &Scenario, t: &Toll) -> String {
    let lead: Vec<_> = t
        .bycatch
        .iter()
        .filter(|g| g.class != Class::Arthropod)
        .collect();
    let apart = if t.bycatch.is_empty() {
        // No trap catches its target alone.
        ", by-catch not stated".into()
    } else if lead.is_empty() {
        String::new()
    } else {
        let n: f64 = lead.iter().map(|g| g.mean).sum();
        let open: f64 = lead.iter().filter_map(|g| g.not_excluded).sum();
        let more = if open > 0.0 {
            format!(" (and up to {} more not excluded)", rounded(open))
        } else {
            String::new()
        };
        format!(", {}{more} of them vertebrates or protected", rounded(n))
    };
    let still = t
        .if_nothing_changes
        .filter(|s| (s.total_mean / t.total.mean - 1.0).abs() > 0.02);
    let change = change::otherwise(scenario);
    let otherwise = still.map_or(String::new(), |s| {
        format!("; {change} {}", rounded(s.total_mean))
    });
    format!(
        " It kills about {} animals{apart}{otherwise}.",
        rounded(t.total.mean)
    )
}

/// Whether the answer rests on fits and tests; a claim of absence rests on whether anything is caught, a baseline on an
/// interval, an inventory on what is recorded.
fn measures(scenario: &Scenario) -> bool {
    !scenario.question.effect.is_chance()
}

/// What stands beside every power: that failed fits count as nothing found, and what singular means.
pub fn fits(answer: &Answer) -> String {
    let f = &answer.fits;
    let n = f.converged + f.singular + f.at_bound + f.failed;
    if answer.occupancy.is_some() {
        return format!(
            "{n} fits: {} converged, {} at a boundary (occupancy or detection estimated as none or all; used), {} failed (counted as nothing found)",
            f.converged, f.at_bound, f.failed
        );
    }
    format!(
        "{n} fits: {} converged, {} singular (a spread estimated as 0; used), {} with no more scatter than Poisson (used), {} failed (counted as nothing found)",
        f.converged, f.singular, f.at_bound, f.failed
    )
}

/// A warning when more than one fit in ten fails.
fn failing(scenario: &Scenario, answer: &Answer) -> Option<String> {
    let f = &answer.fits;
    let n = f.converged + f.singular + f.at_bound + f.failed;
    if n < 50 || 10 * f.failed <= n {
        return None;
    }
    let why = match &scenario.question.effect {
        Effect::RangeShift(r) if !r.of.is_optimum() => {
            " Where all sites on one side of the edge show something and all on the other nothing, there is no slope to fit: place more sites near the edge."
        }
        _ => " There is too little to be analysed: look at catches, sites and years.",
    };
    Some(format!(
        "{} of {n} fits failed. They count as nothing found, in power and in false alarms, and their intervals as missing the truth: the closed forms know nothing of that.{why}",
        f.failed
    ))
}

/// A warning when the false alarms are surely above the accepted level.
pub fn alarm_warning(scenario: &Scenario, answer: &Answer) -> Option<String> {
    if baseline::is_asked(scenario) {
        return baseline::warning(scenario, answer);
    }
    if matches!(scenario.question.effect, Effect::Inventory(_)) {
        return inventory::false_claims(scenario, &answer.false_alarm);
    }
    (answer.false_alarm.replicates > 0 && answer.false_alarm.low > scenario.question.significance).then(|| {
        format!(
            "This analysis cries wolf: {} false alarms where {} are accepted, so its power is flattered.",
            percent(answer.false_alarm.estimate),
            percent(scenario.question.significance)
        )
    })
}

/// A note when preview and simulation differ by more than Monte Carlo error, or when the preview leaves something out.
pub fn preview_note(scenario: &Scenario, answer: &Answer) -> Option<String> {
    if departures::clusters_unknown(scenario) {
        return Some(
            "Losses in clusters have no closed form with this question: the preview takes them as lost at random. Trust the simulation.".into(),
        );
    }
    if departures::losses_follow(scenario) {
        return Some(
            "Losses that follow the catch have no closed form: the preview takes them as lost at random. Trust the simulation.".into(),
        );
    }
    let p = answer.preview.power;
    (answer.power.replicates >= 200
        && (p < answer.power.low - 0.02 || p > answer.power.high + 0.02))
        .then(|| {
            format!(
                "The closed-form preview says {}, the simulation {}: trust the simulation.",
                percent(p),
                percent(answer.power.estimate)
            )
        })
}

/// What a plan smaller than the least one is worth: surely too weak, or too weak by its estimate alone.
pub fn falls_short(scenario: &Scenario, power: &Share) -> &'static str {
    if power.high < scenario.question.wanted_power {
        "falls short"
    } else {
        "falls short by its estimate, within Monte Carlo error"
    }
}

/// That a plan's simulation was stopped early.
pub fn stopped(after: u64, of: u64) -> String {
    format!("stopped after {after} of {of} surveys")
}

/// How many plans were stopped early, how surely rightly, and how many surveys were simulated for all plans together.
pub fn race(stopped: usize, error_rate: f64, surveys: u64) -> String {
    let rate = 1.0 / error_rate;
    let plans = match stopped {
        0 => "No plan was surely above or below the wanted power before its last survey.".into(),
        1 => format!(
            "1 plan was stopped early, once it was sure on which side of the wanted power it lies (wrongly in at most 1 of {rate:.0} plans)."
        ),
        n => format!(
            "{n} plans were stopped early, once it was sure on which side of the wanted power they lie (wrongly in at most 1 of {rate:.0} plans)."
        ),
    };
    format!(
        "{plans} {} simulated surveys in all, with and without the change.",
        count(surveys as f64)
    )
}

/// What the significant results among the simulated surveys are worth.
pub fn worth(answer: &Answer) -> Option<String> {
    let s = &answer.significant;
    let (wrong, size) = (s.wrong_sign?, s.exaggeration?);
    let truth = if answer.question == "no_worse" {
        "true distance from the margin"
    } else {
        "true change"
    };
    Some(format!(
        "Of the {} surveys with a significant result, {} see a change the wrong way, and their estimates are on average {} times the {truth}; {} of all intervals hold the truth (95 % interval {} to {}).",
        s.found,
        percent(wrong),
        decimals(size, 2),
        percent(answer.coverage.estimate),
        percent(answer.coverage.low),
        percent(answer.coverage.high)
    ))
}

/// What the range of the shared-year SD does to the preview's power: the premise that years of pilots know least of. Of
/// a baseline, in which years shared by all sites are part of the truth, that of the SD of sites.
pub fn year_range(scenario: &Scenario) -> Option<String> {
    fn premise(s: &mut Scenario) -> (&mut Premise, &'static str) {
        let target = &mut s.premises.target;
        match s.question.effect {
            Effect::Baseline(_) => (&mut target.site_sd, "sites"),
            _ => (&mut target.year_sd, "shared years"),
        }
    }
    let mut here = scenario.clone();
    let (known, of) = premise(&mut here);
    let (low, high) = (known.low?, known.high?);
    let power = |sd: f64| {
        let mut other = scenario.clone();
        let (changed, _) = premise(&mut other);
        (changed.value, changed.low, changed.high) = (sd, None, None);
        let other = other.check().ok()?;
        Some(power_at_stated(&other, &other.plan))
    };
    let (best, worst) = (power(low)?, power(high)?);
    ((best - worst).abs() > 0.05).then(|| {
        format!(
            "If the SD of {of} were {} or {}, the ends of its range, the power would be about {} or {} (closed form).",
            plain(low),
            plain(high),
            percent(best),
            percent(worst)
        )
    })
}

/// A warning when the optimum or edge lies outside the transect, where no analysis can see it well.
pub fn transect_warning(scenario: &Scenario) -> Option<String> {
    let t = scenario.plan.transect.as_ref()?;
    let moving = scenario.moving(scenario.plan.years)?;
    let what = if scenario.edge().is_some() {
        "edge"
    } else {
        "optimum"
    };
    let inside = |x: f64| x >= t.lowest && x <= t.highest;
    (!inside(moving.first) || !inside(moving.last)).then(|| {
        format!(
            "The {what} goes from {} to {}, outside the transect ({} to {}): its move can hardly be seen there, and the closed forms are too hopeful.",
            plain(moving.first),
            plain(moving.last),
            plain(t.lowest),
            plain(t.highest)
        )
    })
}

/// What a formula says that takes the counts of a site for all there is.
fn by_rates(answer: &Answer) -> Option<String> {
    let sites = answer.sites_by_rates?;
    Some(format!(
        "A published formula for two negative binomial rates (Zhu & Lakkis 2014, Stat. Med. 33:376) would ask for {} sites without the treatment. It takes sites to differ by chance alone: where they differ for other reasons, as in the premises here, it asks for too few.",
        count(sites.ceil())
    ))
}

/// What some surveys, looked at one by one, come to.
pub fn futures(scenario: &Scenario, futures: &survey::futures::Futures) -> String {
    crate::futures_figure::sentence(scenario, futures)
}

/// All that must stand beside an answer.
pub fn notes(scenario: &Scenario, answer: &Answer) -> Vec<String> {
    let mut notes = if baseline::is_asked(scenario) {
        baseline::notes(answer)
    } else {
        vec![test_note(scenario, answer)]
    };
    if measures(scenario) {
        notes.insert(0, fits(answer));
        notes.extend(failing(scenario, answer));
        notes.extend(worth(answer));
    }
    notes.extend(one_of_several(scenario));
    notes.extend(occupancy(scenario, answer));
    notes.extend(claim(scenario, answer));
    notes.extend(by_rates(answer));
    notes.extend(range_shift(scenario, answer));
    notes.extend(no_worse(scenario, answer));
    notes.extend(alarm_warning(scenario, answer));
    notes.extend(held_by_calibration(scenario, answer));
    notes.extend(transect_warning(scenario));
    notes.extend(departures::notes(scenario, answer));
    notes.extend(preview_note(scenario, answer));
    notes.extend(year_range(scenario));
    notes.extend(change::goes_on(scenario));
    notes.push(
        "The toll's intervals hold the luck of the draw, not what the premises do not know.".into(),
    );
    notes
}

/// How sharply the search could tell plans apart.
pub fn undecided(toll: (f64, f64), replicates: u64) -> String {
    format!(
        "With {replicates} simulated surveys, plans of the frontier that kill {} to {} animals cannot be told from the wanted power; more surveys narrow this.",
        rounded(toll.0),
        rounded(toll.1)
    )
}

/// What half the exposure would do, and advice when it costs little power.
pub fn half_exposure(days: f64, power: f64, of_least: f64, toll: f64) -> String {
    let advice = if of_least - power < 0.05 {
        " So much for so little: try a shorter exposure."
    } else {
        ""
    };
    format!(
        "This is the least plan at the plan's own exposure; others were not looked at. At half of it, {}, this plan would kill about {} animals; its power by closed form, scaled to the simulation, would be {} where that of the whole exposure is {} (dispersion k taken to stay as it is).{advice}",
        days_a_week(days),
        rounded(toll),
        percent(power),
        percent(of_least)
    )
}

/// A warning when the test under a plan raises surely too many false alarms.
pub fn least_warning(scenario: &Scenario, alarm: &Share) -> Option<String> {
    if baseline::is_asked(scenario) {
        return (alarm.low > scenario.question.significance).then(|| {
            format!(
                "Of this plan's intervals {} miss the truth where {} are accepted, since catches are skewed: plan for more sites if that is too many.",
                percent(alarm.estimate),
                percent(scenario.question.significance)
            )
        });
    }
    if matches!(scenario.question.effect, Effect::Inventory(_)) {
        return inventory::false_claims(scenario, alarm);
    }
    (alarm.low > scenario.question.significance).then(|| {
        format!(
            "Do not rest a plan on this: its analysis raises {} false alarms where {} are accepted, so its power is flattered.",
            percent(alarm.estimate),
            percent(scenario.question.significance)
        )
    })
}
