//! Running other programs, with a message that says what failed and how to repeat it.

use std::env;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use anyhow::{Context, Result, bail};

/// The cargo that runs this, so that a toolchain chosen with `cargo +name` also builds the page.
pub fn cargo(root: &Path) -> Command {
    let mut command = Command::new(env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.current_dir(root);
    command
}

/// The command as a person would type it, for messages.
fn shown(command: &Command) -> String {
    let program = Path::new(command.get_program());
    let name = program.file_stem().unwrap_or(program.as_os_str());
    let mut words = vec![name.to_string_lossy().into_owned()];
    words.extend(
        command
            .get_args()
            .map(|word| word.to_string_lossy().into_owned()),
    );
    words.join(" ")
}

/// Runs a command with its output on the terminal.
///
/// # Errors
/// When it cannot be started or does not end with success.
pub fn run(command: &mut Command) -> Result<()> {
    let status = command
        .status()
        .with_context(|| format!("could not start `{}`", shown(command)))?;
    if !status.success() {
        bail!("`{}` failed ({status})", shown(command));
    }
    Ok(())
}

/// Runs a command and returns what it writes to its standard output.
///
/// # Errors
/// When it cannot be started, does not end with success, or writes something that is not UTF-8.
pub fn output(command: &mut Command) -> Result<String> {
    let output = command
        .stderr(Stdio::inherit())
        .output()
        .with_context(|| format!("could not start `{}`", shown(command)))?;
    if !output.status.success() {
        bail!("`{}` failed ({})", shown(command), output.status);
    }
    String::from_utf8(output.stdout)
        .with_context(|| format!("`{}` wrote something that is not UTF-8", shown(command)))
}

/// Where a program is on the search path, if it is there.
pub fn find_program(name: &str) -> Option<PathBuf> {
    let endings: &[&str] = if cfg!(windows) {
        &[".exe", ".cmd", ".bat"]
    } else {
        &[""]
    };
    env::split_paths(&env::var_os("PATH")?).find_map(|folder| {
        endings
            .iter()
            .map(|ending| folder.join(format!("{name}{ending}")))
            .find(|candidate| candidate.is_file())
    })
}
