//! `leastcatch mistakes`

use crate::arguments::MistakesArguments;
use crate::failure::Failure;
use crate::output::print_line;
use crate::{files, text};
use engine::mistakes::{Base, Knob, Mistake, Shown};
use paper::mistakes as told;
use serde::Serialize;

#[derive(Serialize)]
struct Told {
    scenario_digest: String,
    seed: u64,
    mistakes: Vec<One>,
}

#[derive(Serialize)]
struct One {
    mistake: &'static str,
    title: &'static str,
    knobs: Vec<Knob>,
    result: Shown,
    sentences: Vec<String>,
}

impl One {
    fn new(mistake: Mistake, base: &Base, seed: u64) -> Self {
        let knobs = mistake.knobs(base);
        let result = mistake.shown(base, &knobs, seed);
        Self {
            mistake: mistake.key(),
            title: told::title(mistake),
            knobs,
            sentences: told::sentences(&result),
            result,
        }
    }
}

fn wanted(only: Option<&str>) -> Result<Vec<Mistake>, Failure> {
    let Some(key) = only else {
        return Ok(Mistake::ALL.to_vec());
    };
    let known = || Mistake::ALL.map(Mistake::key).join(", ");
    let found = Mistake::of_key(key)
        .ok_or_else(|| Failure::Usage(format!("--only is {key:?}: give one of {}", known())))?;
    Ok(vec![found])
}

/// What becomes of the scenario's numbers when something usual goes wrong.
pub fn run(arguments: &MistakesArguments) -> Result<(), Failure> {
    let scenario = files::checked(&arguments.scenario)?;
    let wanted = wanted(arguments.only.as_deref())?;
    let base = Base::of(&scenario);
    let one = |m: &Mistake| One::new(*m, &base, arguments.seed);
    let mistakes: Vec<One> = wanted.iter().map(one).collect();
    let pictures = &arguments.files;
    if pictures.svg.is_some() || pictures.csv.is_some() {
        let [one] = mistakes.as_slice() else {
            return Err(Failure::Usage(
                "--svg and --csv write one picture: give --only too".into(),
            ));
        };
        let figure = told::figure(&one.result);
        pictures.write(|| figure.svg(), || figure.csv())?;
    }
    if arguments.json {
        let told = Told {
            scenario_digest: scenario.digest(),
            seed: arguments.seed,
            mistakes,
        };
        return print_line(&text::asked(&told, &scenario)?);
    }
    let mut parts: Vec<String> = wanted
        .iter()
        .zip(&mistakes)
        .map(|(m, one)| in_words(*m, one))
        .collect();
    if let [one] = mistakes.as_slice() {
        let table = told::figure(&one.result).table();
        parts.push(format!("{}\n{}", table.caption, text::table(&table)));
    }
    parts.push(told::WHAT.to_owned());
    print_line(&parts.join("\n\n"))
}

fn in_words(mistake: Mistake, one: &One) -> String {
    let mut lines = vec![
        format!("{} ({})", one.title, one.mistake),
        told::why(mistake).to_owned(),
    ];
    let knobs = one.knobs.iter().map(|k| format!("  {}", told::knob(k)));
    lines.extend(knobs);
    lines.extend(one.sentences.iter().cloned());
    lines.push(told::instead(mistake).to_owned());
    lines.push(format!("After {}.", told::source(mistake)));
    lines.join("\n")
}
