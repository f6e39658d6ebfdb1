//! One picture at a time for people who are not statisticians, each with a sentence that they understand.

mod fewer;

use crate::number::{percent, rounded};
use crate::sentences;
use crate::{curve_figure, futures_figure};
use fewer::fewer;
use figures::hundred::Kind;
use figures::{Hundred, Shape};
use survey::futures::Futures;
use survey::scenario::{Class, Effect, Plan, Scenario};
use survey::summary::{Answer, Curve, GroupToll};

/// One picture with its words.
#[derive(Clone, Debug, PartialEq)]
pub struct Slide {
    /// What it is called.
    pub heading: String,
    /// The picture, as SVG without style sheet; `None` where words are enough.
    pub picture: Option<String>,
    /// The sentence beneath it.
    pub sentence: String,
}

/// What is known by now.
#[derive(Clone, Copy, Debug, Default)]
pub struct Known<'a> {
    /// The answer.
    pub answer: Option<&'a Answer>,
    /// The curve.
    pub curve: Option<&'a Curve>,
    /// Surveys to look at.
    pub futures: Option<&'a Futures>,
    /// The least plan, and the animals it kills.
    pub least: Option<(&'a Plan, f64)>,
}

/// The slides of what is known, for a screen of this width in pixels.
pub fn slides(scenario: &Scenario, known: &Known, width: f64) -> Vec<Slide> {
    let mut all = vec![Slide {
        heading: "The question".into(),
        picture: None,
        sentence: format!(
            "{} The plan: {}.",
            asked(scenario),
            sentences::plan(&scenario.plan)
        ),
    }];
    if let Some(a) = known.answer {
        all.extend(hundred(scenario, a, width));
        all.extend(wolf(scenario, a, width));
    }
    if let Some(f) = known.futures.filter(|f| !f.change.is_empty()) {
        let mut figure = futures_figure(scenario, f);
        // A screen is wide and low: ten surveys in a line, but for a phone.
        let width = if width < 500.0 { width } else { 1160.0 };
        (figure.show_title, figure.width) = (false, width);
        all.push(Slide {
            heading: "What the survey may look like".into(),
            picture: Some(figure.svg_unstyled()),
            sentence: "Each little picture is one survey as it might turn out. The truth is the same in all of a row: what differs is luck.".into(),
        });
    }
    if let Some(c) = known.curve {
        let mut figure = curve_figure(scenario, c);
        (figure.show_title, figure.width) = (false, width);
        figure.height = 0.55 * width;
        all.push(Slide {
            heading: "Why not fewer?".into(),
            picture: Some(figure.svg_unstyled()),
            sentence: fewer(scenario, c),
        });
    }
    all.extend(known.answer.and_then(|a| kill(scenario, a)));
    if let Some((plan, toll)) = known.least {
        all.push(least(known.answer, plan, toll));
    }
    all
}

/// The question without what it accepts and wants, which the pictures tell.
fn asked(scenario: &Scenario) -> String {
    let whole = sentences::question(scenario);
    if !scenario.question.effect.has_two_sides() {
        return whole;
    }
    match whole.split_once("; ") {
        Some((asked, _)) => format!("{asked}."),
        None => whole,
    }
}

/// Whether that is enough.
fn enough(scenario: &Scenario, a: &Answer) -> String {
    let wanted = scenario.question.wanted_power;
    let wanted = figures::in_a_hundred(&[wanted, 1.0 - wanted])[0];
    match sentences::surely(scenario, a) {
        Some(true) => format!(" {wanted} are wanted: the plan answers."),
        Some(false) => format!(" {wanted} are wanted: the plan does not answer."),
        None => format!(" {wanted} are wanted: too close to call."),
    }
}

/// Share of surveys that find it the right way, the wrong way, and not at all.
fn outcomes(answer: &Answer) -> [f64; 3] {
    let wrong = answer.significant.wrong_sign.unwrap_or(0.0);
    let power = answer.power.estimate;
    [power * (1.0 - wrong), power * wrong, 1.0 - power]
}

fn kinds(of: [(&str, f64, Shape); 3]) -> Vec<Kind> {
    of.into_iter()
        .filter(|(_, share, _)| *share > 0.0)
        .map(|(label, share, shape)| Kind {
            label: label.into(),
            share,
            shape,
        })
        .collect()
}

/// The hundred surveys of the world in which the effect is there.
fn hundred(scenario: &Scenario, a: &Answer, width: f64) -> Option<Slide> {
    if a.power.replicates == 0 {
        return None;
    }
    let [right, wrong, missed] = outcomes(a);
    let n = figures::in_a_hundred(&[right, wrong, missed]);
    let found = sentences::found(scenario);
    let wrongly = match n[1] {
        0 => String::new(),
        1 => " One would see the opposite.".into(),
        w => format!(" {w} would see the opposite."),
    };
    let sentence = format!(
        "Of 100 surveys like this, {} {found}.{wrongly}{}",
        n[0],
        enough(scenario, a)
    );
    let figure = Hundred {
        id: "hundred".into(),
        title: format!("A hundred surveys {}", sentences::with_effect(scenario)),
        show_title: false,
        description: sentence.clone(),
        kinds: kinds([
            ("answer", right, Shape::Disc),
            ("see the opposite", wrong, Shape::Cross),
            ("come back with nothing sure", missed, Shape::Ring),
        ]),
        width,
    };
    Some(Slide {
        heading: "If we did it a hundred times".into(),
        picture: Some(figure.svg_unstyled()),
        sentence,
    })
}

/// The hundred surveys of the world in which nothing happens.
fn wolf(scenario: &Scenario, a: &Answer, width: f64) -> Option<Slide> {
    if a.false_alarm.replicates == 0 || matches!(scenario.question.effect, Effect::Absence(_)) {
        return None;
    }
    let alarms = a.false_alarm.estimate;
    let name = sentences::false_alarms(scenario);
    let n = figures::in_a_hundred(&[alarms, 1.0 - alarms])[0];
    let accepted = percent(scenario.question.significance);
    let (sentence, rest) = match scenario.question.effect {
        Effect::Baseline(_) => (
            format!(
                "Of 100 surveys like this, {n} would give a range that misses the true mean; {accepted} are accepted."
            ),
            "hold the true mean",
        ),
        Effect::Inventory(_) => (
            format!(
                "Of 100 surveys {}, {n} would claim the share without having reached it; {accepted} are accepted.",
                sentences::still_world(scenario)
            ),
            "claim nothing false",
        ),
        _ => (
            format!(
                "Of 100 surveys {}, {n} would end in {name}: that is the price of listening at all. {accepted} are accepted.",
                sentences::still_world(scenario)
            ),
            "stay quiet",
        ),
    };
    let more = if a.false_alarm.low > scenario.question.significance {
        " This plan has more."
    } else {
        ""
    };
    let sentence = format!("{sentence}{more}");
    let figure = Hundred {
        id: "wolf".into(),
        title: format!("A hundred surveys {}", sentences::still_world(scenario)),
        show_title: false,
        description: sentence.clone(),
        kinds: kinds([
            (name, alarms, Shape::Cross),
            (rest, 1.0 - alarms, Shape::Bar),
            ("", 0.0, Shape::Ring),
        ]),
        width,
    };
    let heading = match scenario.question.effect {
        Effect::NoWorse(_) => "And if the claim were not true?",
        Effect::Baseline(_) | Effect::Inventory(_) => "And how often is it wrong?",
        _ => "And if nothing happens at all?",
    };
    Some(Slide {
        heading: heading.into(),
        picture: Some(figure.svg_unstyled()),
        sentence,
    })
}

fn kill(scenario: &Scenario, a: &Answer) -> Option<Slide> {
    let t = a.toll.as_ref()?;
    let group = |g: &GroupToll| {
        let open = g.not_excluded.map_or(String::new(), |n| {
            format!(", up to {} not excluded", rounded(n))
        });
        match g.class {
            Class::Arthropod => format!("{} {}{open}", rounded(g.mean), g.group),
            c => format!(
                "{} {} ({}{open})",
                rounded(g.mean),
                g.group,
                sentences::class(c)
            ),
        }
    };
    let target = format!(
        "{} {}",
        rounded(t.target.mean),
        scenario.premises.target.name
    );
    let groups: Vec<String> = std::iter::once(target)
        .chain(t.bycatch.iter().map(group))
        .collect();
    let besides = if t.bycatch.is_empty() {
        " What the traps kill besides is not stated."
    } else {
        ""
    };
    Some(Slide {
        heading: "What it kills".into(),
        picture: None,
        sentence: format!(
            "About {} animals over all years: {}. With luck of the draw, from {} to {}.{besides}",
            rounded(t.total.mean),
            groups.join(", "),
            rounded(t.total.low),
            rounded(t.total.high)
        ),
    })
}

fn least(answer: Option<&Answer>, plan: &Plan, toll: f64) -> Slide {
    let now = answer.and_then(|a| a.toll.as_ref()).map(|t| t.total.mean);
    let than = match now {
        Some(now) if now > toll * 1.005 => format!(
            " That is {} fewer than the plan shown before.",
            rounded(now - toll)
        ),
        Some(now) if toll > now * 1.005 => format!(
            " That is {} more than the plan shown before, which does not answer as surely.",
            rounded(toll - now)
        ),
        _ => String::new(),
    };
    Slide {
        heading: "The least plan that answers".into(),
        picture: None,
        sentence: format!(
            "{}: about {} animals.{than}",
            sentences::plan(plan),
            rounded(toll)
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use survey::scenario::read;

    #[test]
    fn without_results_there_is_the_question_alone() {
        let s = read(include_str!("../../../demo-data/meadow-beetles.json")).unwrap();
        let all = slides(&s, &Known::default(), 900.0);
        assert_eq!(all.len(), 1);
        assert!(all[0].sentence.contains("fall of 30 % in ground beetles"));
    }

    /// A scenario with a few surveys of it.
    pub(super) fn simulated(text: &str) -> (Scenario, Answer) {
        let s = read(text).unwrap().check().unwrap();
        let a = crate::reader_tests::answer(&s);
        (s.as_written().clone(), a)
    }

    pub(super) fn share(estimate: f64, by: f64) -> survey::summary::Share {
        survey::summary::Share {
            estimate,
            low: estimate - by,
            high: estimate + by,
            replicates: 1000,
        }
    }

    #[test]
    fn each_question_is_wrong_in_its_own_words() {
        let told = |text| {
            let (s, a) = simulated(text);
            wolf(&s, &a, 600.0).unwrap().sentence
        };
        let beetles = told(include_str!("../../../demo-data/meadow-beetles.json"));
        assert!(beetles.contains("in which nothing changes"), "{beetles}");
        let flies = told(include_str!("../../../demo-data/orchard-baseline.json"));
        assert!(
            flies.contains("misses the true mean") && !flies.contains("nothing changes"),
            "{flies}"
        );
        let inventory = told(include_str!("../../../demo-data/meadow-inventory.json"));
        assert!(
            inventory.contains("without having reached it"),
            "{inventory}"
        );
    }

    #[test]
    fn whether_that_is_enough_follows_the_interval() {
        let (s, mut a) = simulated(include_str!("../../../demo-data/meadow-beetles.json"));
        a.false_alarm = share(0.05, 0.01);
        for (power, by, want) in [
            (0.9, 0.02, "the plan answers."),
            (0.7, 0.02, "the plan does not answer."),
            (0.797, 0.02, "too close to call."),
        ] {
            a.power = share(power, by);
            let told = enough(&s, &a);
            assert!(
                told.starts_with(" 80 are wanted: ") && told.ends_with(want),
                "{told}"
            );
        }
        // The verdict says by how little.
        let verdict = sentences::verdict(&s, &a);
        assert!(
            verdict.starts_with("Too close to call: by its estimate of 79.7 % the plan falls short of the wanted power of 80 %"),
            "{verdict}"
        );
    }

    #[test]
    fn the_least_plan_is_set_against_the_present_one() {
        let s = read(include_str!("../../../demo-data/meadow-beetles.json")).unwrap();
        let known = Known {
            least: Some((&s.plan, 1000.0)),
            ..Known::default()
        };
        let last = slides(&s, &known, 900.0).pop().unwrap();
        assert!(
            last.sentence.ends_with("about 1,000 animals."),
            "{}",
            last.sentence
        );
    }
}
