//! `leastcatch`: how few traps answer the question, and what they kill.
//!
//! Exit codes: 0 done, 1 refused input, 2 usage, 3 no plan within the limits answers.
#![allow(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a command line speaks by printing"
)]

mod arguments;
mod command;
mod failure;
mod files;
mod output;
mod progress;
mod run;
mod text;

use arguments::{Arguments, Command};
use clap::Parser;
use std::process::ExitCode;

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    let done = match arguments.command {
        Command::Answer(a) => command::answer::run(&a),
        Command::Curve(a) => command::curve::run(&a),
        Command::Cost(a) => command::cost::run(&a),
        Command::Least(a) => command::least::run(&a),
        Command::Ignoring(a) => command::ignoring::run(&a),
        Command::Futures(a) => command::futures::run(&a),
        Command::Season(a) => command::season::run(&a),
        Command::Gentle(a) => command::gentle::run(&a),
        Command::StopLines(a) => command::stop_lines::run(&a),
        Command::Several(a) => command::several::run(&a),
        Command::Looks(a) => command::looks::run(&a),
        Command::Mistakes(a) => command::mistakes::run(&a),
        Command::Patterns(a) => command::patterns::run(&a),
        Command::Returns(a) => command::returns::run(&a),
        Command::Limiting(a) => command::limiting::run(&a),
        Command::Map(a) => command::map::run(&a),
        Command::Premises(a) => command::premises::run(&a),
        Command::Inventory(a) => command::inventory::run(&a),
        Command::Own(a) => command::own::run(&a),
        Command::Schema => command::schema::run(),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            if !failure.to_string().is_empty() {
                eprintln!("leastcatch: {failure}");
            }
            ExitCode::from(failure.code())
        }
    }
}
