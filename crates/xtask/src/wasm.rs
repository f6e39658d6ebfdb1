//! Compiling the page, which is its workers too, to WebAssembly and writing the JavaScript that loads them.

use std::env;
use std::fs;
use std::path::Path;
use std::process::Command;
use std::thread;

use anyhow::{Context, Result, anyhow, bail};
use wasm_bindgen_cli_support::Bindgen;
use wasmparser::{Validator, WasmFeatures};

use crate::private_paths;
use crate::process::{self, find_program};
use crate::split;
use crate::workspace::Workspace;

/// The target triple of what the browser runs.
pub const TARGET: &str = "wasm32-unknown-unknown";

/// Cargo profile of what browsers load.
const PROFILE: &str = "wasm-page";

/// One program of the page's crate that a browser loads.
pub struct Program {
    /// Its name in the crate.
    target: &'static str,
    /// What kind of program it is.
    kind: Kind,
    /// Folder of the files that come out, within the one for all programs.
    folder: &'static str,
    /// Name of the files that come out.
    name: &'static str,
    /// Whether it holds vector instructions (simd128), which a browser may lack.
    vectors: bool,
}

/// The kinds of programs that cargo builds from a crate.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Main,
    Example,
}

/// The page, which is the worker too, with and without vector instructions. They are made of the same compiled crates:
/// the one without leaves out the functions with such instructions.
pub const PROGRAMS: &[Program] = &[
    Program {
        target: "page",
        kind: Kind::Main,
        folder: "",
        name: "page",
        vectors: true,
    },
    Program {
        target: "plain",
        kind: Kind::Main,
        folder: "plain",
        name: "page",
        vectors: false,
    },
];

/// What only the browser tests load: a page around the pool of workers, and one that answers scenarios by real ones.
pub const CHECKS: &[Program] = &[Program {
    target: "check",
    kind: Kind::Example,
    folder: "",
    name: "check",
    vectors: false,
}];

/// The compiler's flags. The views' types are erased, or the compiler writes the same code once for each of hundreds of
/// types: that makes the page a tenth smaller to load.
const FLAGS: &[&str] = &["--cfg", "erase_components", split::FLAG];

/// Adds the compilation target when it is missing.
///
/// # Errors
/// When it is missing and rustup is not there to add it, or fails.
pub fn ensure_target(workspace: &Workspace) -> Result<()> {
    let rustc = env::var_os("RUSTC").unwrap_or_else(|| "rustc".into());
    let libraries = process::output(Command::new(rustc).current_dir(workspace.root()).args([
        "--print",
        "target-libdir",
        "--target",
        TARGET,
    ]))?;
    if Path::new(libraries.trim()).is_dir() {
        return Ok(());
    }
    if find_program("rustup").is_none() {
        bail!(
            "Rust's compilation target {TARGET} is missing, and there is no rustup to add it. Please \
             install it the way Rust was installed on this computer, or install Rust with rustup."
        );
    }
    println!("Adding Rust's compilation target {TARGET}.");
    process::run(
        Command::new("rustup")
            .current_dir(workspace.root())
            .args(["target", "add", TARGET]),
    )
}

/// Compiles programs. Cargo is asked for all of them at once: the last and longest part of compiling one keeps a single
/// core busy.
///
/// # Errors
/// When one does not compile.
pub fn compile(
    workspace: &Workspace,
    programs: impl IntoIterator<Item = &'static Program>,
) -> Result<()> {
    ensure_target(workspace)?;
    let folders = private_paths::folders(workspace.root())?;
    let mut command = process::cargo(workspace.root());
    command
        .args(["build", "--package", "page", "--profile", PROFILE])
        .args(["--target", TARGET, "--config"])
        .arg(private_paths::setting(TARGET, &folders, FLAGS)?);
    for program in programs {
        command.arg(match program.kind {
            Kind::Main => "--bin",
            Kind::Example => "--example",
        });
        command.arg(program.target);
    }
    process::run(&mut command)
}

/// Compiles programs and writes `NAME.js` and `NAME_bg.wasm` of each into its folder.
///
/// # Errors
/// When one does not compile, or its JavaScript cannot be made.
pub fn build_all(workspace: &Workspace, programs: &'static [Program], folder: &Path) -> Result<()> {
    compile(workspace, programs)?;
    let compiled = workspace.target().join(TARGET).join(PROFILE);
    thread::scope(|scope| {
        let each: Vec<_> = programs
            .iter()
            .map(|program| scope.spawn(|| finish(program, &compiled, folder)))
            .collect();
        let done = each.into_iter().map(|one| {
            one.join()
                .unwrap_or_else(|_| Err(anyhow!("it stopped without a reason")))
        });
        done.collect()
    })
}

/// Cuts the page in parts and writes the JavaScript that loads a program.
fn finish(program: &Program, compiled: &Path, folder: &Path) -> Result<()> {
    let folder = folder.join(program.folder);
    fs::create_dir_all(&folder)
        .with_context(|| format!("could not create {}", folder.display()))?;
    let mut compiled = match program.kind {
        Kind::Main => compiled.to_owned(),
        Kind::Example => compiled.join("examples"),
    };
    compiled.push(format!("{}.wasm", program.target));
    let shown = compiled.display().to_string();
    if has_vectors(&fs::read(&compiled)?) != program.vectors {
        let should = if program.vectors { "hold" } else { "hold no" };
        bail!("{shown} should {should} vector instructions");
    }
    if program.kind == Kind::Main {
        compiled = split::split(&compiled, program.name, &folder)
            .with_context(|| format!("could not cut {shown} in parts"))?;
    }
    bind(&compiled, program.name, &folder)
        .with_context(|| format!("could not write the JavaScript for {shown}"))
}

/// Whether a program is no valid one for a browser that knows all but vector instructions.
fn has_vectors(program: &[u8]) -> bool {
    let vectors = WasmFeatures::SIMD | WasmFeatures::RELAXED_SIMD;
    let without =
        Validator::new_with_features(WasmFeatures::default() - vectors).validate_all(program);
    without.is_err() && Validator::new().validate_all(program).is_ok()
}

fn bind(compiled: &Path, name: &str, folder: &Path) -> Result<()> {
    Bindgen::new()
        .input_path(compiled)
        .out_name(name)
        .web(true)?
        .typescript(false)
        // Without the default path, the page's `init()` would not know where its own module is.
        .omit_default_module_path(false)
        // What is cut off has its functions in the table of what remains.
        .keep_lld_exports(true)
        .remove_name_section(true)
        .remove_producers_section(true)
        .generate(folder)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_program_with_a_vector_instruction_is_told_from_one_without() {
        // (module (func (result v128 or i32) ...)): one function that gives a number.
        let program = |result: u8, code: &[u8]| {
            let length = u8::try_from(code.len()).expect("a short function");
            let head = [
                0, 97, 115, 109, 1, 0, 0, 0, 1, 5, 1, 96, 0, 1, result, 3, 2, 1, 0,
            ];
            [&head[..], &[10, length + 4, 1, length + 2, 0], code, &[11]].concat()
        };
        // i32.const 0, without and with i8x16.splat.
        assert!(!has_vectors(&program(0x7f, &[0x41, 0])));
        assert!(has_vectors(&program(0x7b, &[0x41, 0, 0xfd, 0x0f])));
    }
}
