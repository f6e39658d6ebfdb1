//! Opens an address in the person's browser, where there is one.

use std::process::{Command, Stdio};

use crate::process::find_program;

/// Opens the address, or says why it does not. Never an error: the address has been printed.
pub fn open(url: &str) {
    let Some(mut command) = command(url) else {
        println!("No program to open a browser was found; please open the address yourself.");
        return;
    };
    let started = command
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn();
    if let Err(error) = started {
        println!("The browser could not be opened ({error}); please open the address yourself.");
    }
}

fn command(url: &str) -> Option<Command> {
    if cfg!(windows) {
        // `start` belongs to the command interpreter; its first argument is a window title.
        let mut command = Command::new("cmd");
        command.args(["/C", "start", "", url]);
        return Some(command);
    }
    let name = if cfg!(target_os = "macos") {
        "open"
    } else {
        "xdg-open"
    };
    let mut command = Command::new(find_program(name)?);
    command.arg(url);
    Some(command)
}
