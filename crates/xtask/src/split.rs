//! Cutting the page in files of which the first is enough to begin with.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, anyhow, bail};
use sha2::{Digest, Sha256};
use wasm_encoder::{Module, RawSection};
use wasm_split_cli_support::{Options, transform};
use wasmparser::{Parser, Payload};

/// What the linker must leave in the program for [`split`]: which function needs which.
pub const FLAG: &str = "-Clink-args=--emit-relocs";

/// What loads the files that are cut off.
const LOADER: &str = "apart.js";

/// How the loader compiles a file: only where the host says that it is a compiled program.
const BY_TYPE: &str = "(WebAssembly.instantiateStreaming(src, imports))";
/// How it does whatever the host says.
const BY_BYTES: &str = "WebAssembly.instantiate(await (await src).arrayBuffer(), imports)";

/// Cuts a compiled program at its functions marked `wasm_split`. What only those reach goes to files of their own in the
/// folder, beside `apart.js` that loads them; the program that remains is returned.
///
/// # Errors
/// When the program holds no such marks, or a file cannot be read or written.
pub fn split(compiled: &Path, name: &str, folder: &Path) -> Result<PathBuf> {
    let program =
        fs::read(compiled).with_context(|| format!("could not read {}", compiled.display()))?;
    let first = compiled.with_extension("first.wasm");
    let module = format!("./{name}.js");
    let link = format!("./{LOADER}");
    let mut options = Options::new(&program);
    options.output_dir = folder;
    options.main_out_path = &first;
    options.link_name = &link;
    options.main_module = &module;
    let parts = transform(options).map_err(|e| anyhow!("{e:#}"))?;
    if parts.split_modules.is_empty() {
        bail!("nothing was cut off");
    }
    let loader = folder.join(LOADER);
    let mut text = fs::read_to_string(&loader)?;
    if text.matches(BY_TYPE).count() != parts.split_modules.len() {
        bail!("{LOADER} does not load its files as expected");
    }
    text = text.replace(BY_TYPE, BY_BYTES);
    for part in &parts.split_modules {
        let slim = without_names(&fs::read(part)?)?;
        fs::write(part, slim)?;
        text = named_by_content(part, &text)?;
    }
    fs::write(&loader, text)?;
    Ok(first)
}

/// A program without the names of its functions and of the compiler, which only a debugger reads.
fn without_names(program: &[u8]) -> Result<Vec<u8>> {
    let mut slim = Module::new();
    for payload in Parser::new(0).parse_all(program) {
        let payload = payload?;
        if let Payload::CustomSection(section) = &payload
            && ["name", "producers"].contains(&section.name())
        {
            continue;
        }
        if let Some((id, range)) = payload.as_section() {
            let (from, to) = (usize::try_from(range.start)?, usize::try_from(range.end)?);
            let data = &program[from..to];
            slim.section(&RawSection { id, data });
        }
    }
    Ok(slim.finish())
}

/// Gives a file a name that tells its content, so that a page never loads what belongs to another version of it; the
/// loader's text with the new name is returned.
fn named_by_content(part: &Path, loader: &str) -> Result<String> {
    let old = part.file_name().and_then(|n| n.to_str());
    let old = old.with_context(|| format!("{} has no usable name", part.display()))?;
    let digest = Sha256::digest(fs::read(part)?);
    let digest: String = digest.iter().take(4).map(|b| format!("{b:02x}")).collect();
    let new = format!("apart-{digest}.wasm");
    if loader.matches(old).count() != 1 {
        bail!("{old} is not named once in {LOADER}");
    }
    fs::rename(part, part.with_file_name(&new))?;
    Ok(loader.replace(old, &new))
}

#[cfg(test)]
mod tests {
    use super::*;
    use wasm_encoder::{CustomSection, TypeSection};

    #[test]
    fn names_are_left_out_and_nothing_else() {
        let of = |names: &[&str]| {
            let mut module = Module::new();
            let mut types = TypeSection::new();
            types.ty().function([], []);
            module.section(&types);
            for &name in names {
                module.section(&CustomSection {
                    name: name.into(),
                    data: (&[1, 2, 3]).into(),
                });
            }
            module.finish()
        };
        let slim = without_names(&of(&["name", "target_features", "producers"])).expect("sound");
        assert_eq!(slim, of(&["target_features"]));
    }

    #[test]
    fn a_part_is_named_by_its_content_and_so_is_what_loads_it() {
        let folder = std::env::temp_dir().join(format!("leastcatch-split-{}", std::process::id()));
        fs::create_dir_all(&folder).expect("a folder");
        let part = folder.join("split_apart.wasm");
        fs::write(&part, "one").expect("written");
        let loader = named_by_content(&part, "load(\"./split_apart.wasm\")").expect("named");
        // SHA-256 of "one" begins with 7692c3ad.
        assert_eq!(loader, "load(\"./apart-7692c3ad.wasm\")");
        assert!(folder.join("apart-7692c3ad.wasm").is_file());
        fs::write(&part, "two").expect("written");
        assert!(named_by_content(&part, "nothing").is_err());
        fs::remove_dir_all(&folder).expect("removed");
    }
}
