//! Compiling the page, which is its workers too, to WebAssembly and writing the JavaScript that loads them.

use std::env;
use std::fs;
use std::path::Path;
use std::process::Command;
use std::thread;

use anyhow::{Context, Result, anyhow, bail};
use wasm_bindgen_cli_support::Bindgen;

use crate::private_paths;
use crate::process::{self, find_program};
use crate::split;
use crate::workspace::Workspace;

/// The target triple of what the browser runs.
pub const TARGET: &str = "wasm32-unknown-unknown";

/// One program of the page's crate that a browser loads.
pub struct Program {
    /// Its name, and that of the files that come out.
    name: &'static str,
    /// What kind of program it is.
    kind: Kind,
    /// Cargo profile it is built with.
    profile: &'static str,
    /// What it is compiled for.
    variant: Variant,
}

/// What the compiler is told beside the profile.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Variant {
    /// For every browser; its files lie in the folder `plain`.
    Plain,
    /// With vector instructions (simd128), which a browser may lack. The arithmetic is the same.
    Vectors,
}

impl Variant {
    /// The compiler's flags. The views' types are erased, or the compiler writes the same code once for each of hundreds
    /// of types: that makes the page a tenth smaller to load.
    fn flags(self) -> Vec<&'static str> {
        let mut flags = vec!["--cfg", "erase_components", split::FLAG];
        if self == Self::Vectors {
            flags.push("-Ctarget-feature=+simd128");
        }
        flags
    }
}

/// The kinds of programs that cargo builds from a crate.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Main,
    Example,
}

/// The page, which is the worker too, with and without vector instructions.
pub const PROGRAMS: &[Program] = &[
    Program {
        name: "page",
        kind: Kind::Main,
        profile: "wasm-page",
        variant: Variant::Vectors,
    },
    Program {
        name: "page",
        kind: Kind::Main,
        profile: "wasm-page-plain",
        variant: Variant::Plain,
    },
];

/// What only the browser tests load: a page around the pool of workers, and one that answers scenarios by real ones.
pub const CHECKS: &[Program] = &[
    Program {
        name: "pool_check",
        kind: Kind::Example,
        profile: "wasm-page",
        variant: Variant::Vectors,
    },
    Program {
        name: "parity_check",
        kind: Kind::Example,
        profile: "wasm-page",
        variant: Variant::Vectors,
    },
];

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

/// Compiles programs and writes them into the folder as [`build`] does, those of different profiles side by side: the
/// last and longest part of compiling one keeps a single core busy.
///
/// # Errors
/// As [`build`].
pub fn build_all(workspace: &Workspace, programs: &[Program], folder: &Path) -> Result<()> {
    ensure_target(workspace)?;
    let mut profiles: Vec<&str> = programs.iter().map(|p| p.profile).collect();
    profiles.sort_unstable();
    profiles.dedup();
    thread::scope(|scope| {
        let of_profile = |profile: &str| {
            let mut own = programs.iter().filter(|p| p.profile == profile);
            own.try_for_each(|program| build(workspace, program, folder))
        };
        let each: Vec<_> = profiles
            .iter()
            .map(|profile| scope.spawn(move || of_profile(profile)))
            .collect();
        let done = each.into_iter().map(|one| {
            one.join()
                .unwrap_or_else(|_| Err(anyhow!("compiling stopped without a reason")))
        });
        done.collect()
    })
}

/// Compiles a program and writes `NAME.js` and `NAME_bg.wasm` into the folder, or into `plain` in it.
///
/// # Errors
/// When it does not compile, or its JavaScript cannot be made.
fn build(workspace: &Workspace, program: &Program, folder: &Path) -> Result<()> {
    let Program {
        name,
        kind,
        profile,
        variant,
    } = program;
    let folders = private_paths::folders(workspace.root())?;
    process::run(process::cargo(workspace.root()).args([
        "build",
        "--config",
        &private_paths::setting(TARGET, &folders, &variant.flags())?,
        "--package",
        "page",
        match kind {
            Kind::Main => "--bin",
            Kind::Example => "--example",
        },
        name,
        "--profile",
        profile,
        "--target",
        TARGET,
    ]))?;
    let mut compiled = workspace.target().join(TARGET).join(profile);
    if *kind == Kind::Example {
        compiled.push("examples");
    }
    compiled.push(format!("{name}.wasm"));
    let folder = match variant {
        Variant::Plain => folder.join("plain"),
        Variant::Vectors => folder.to_owned(),
    };
    fs::create_dir_all(&folder)
        .with_context(|| format!("could not create {}", folder.display()))?;
    if *kind == Kind::Main {
        compiled = split::split(&compiled, name, &folder)
            .with_context(|| format!("could not cut {} in parts", compiled.display()))?;
    }
    bind(&compiled, name, &folder)
        .with_context(|| format!("could not write the JavaScript for {}", compiled.display()))
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
