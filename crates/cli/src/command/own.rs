//! `leastcatch own`

use crate::arguments::OwnArguments;
use crate::failure::Failure;
use crate::files;
use crate::output::print_line;
use engine::scenario::write;
use paper::sentences;

/// A scenario of one's own, made of another without what was invented in it.
pub fn run(arguments: &OwnArguments) -> Result<(), Failure> {
    let from = files::checked(&arguments.scenario)?;
    let own = from.own(&arguments.title);
    let own = own.map_err(|fault| Failure::Refused(fault.to_string()))?;
    // Whatever is there may be weeks of somebody's work.
    if arguments.out.exists() {
        return Err(Failure::Refused(format!(
            "{} exists already and stays as it is: name a file that does not exist",
            arguments.out.display()
        )));
    }
    files::write(&arguments.out, &write(&own.scenario))?;
    for line in sentences::own(&own) {
        print_line(&line)?;
    }
    print_line(&format!("Written to {}.", arguments.out.display()))
}
