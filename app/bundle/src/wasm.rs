//! The two wasm modules: built by a nested cargo, bound by wasm-bindgen.

use crate::command;
use crate::place;
use crate::trouble::Trouble;
use std::process::Command;
use wasm_bindgen_cli_support::{Bindgen, Output};

/// How much time the compiler may take.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Care {
    /// As served to phones: small.
    Real,
    /// For trying a change: quick.
    Fast,
}

impl Care {
    /// Cargo's profile of this name, which is its folder too.
    pub const fn profile(self) -> &'static str {
        match self {
            Self::Real => "wasm",
            Self::Fast => "wasm-fast",
        }
    }
}

/// A bound module: the script that loads it and its code.
pub struct Module {
    /// The glue, an ES module whose default export starts the wasm.
    pub script: String,
    /// Scripts that the glue imports.
    pub parts: Vec<Part>,
    /// The code.
    pub code: Vec<u8>,
}

/// A script that a library brings along.
pub struct Part {
    /// The path by which the glue imports it.
    pub path: String,
    /// The script.
    pub text: String,
}

/// Builds and binds the barn's screens: what every phone carries.
pub fn barn(care: Care) -> Result<Module, Trouble> {
    screens("csr", care)
}

/// Builds and binds the barn's and the office's screens together.
pub fn office(care: Care) -> Result<Module, Trouble> {
    screens("csr,office", care)
}

fn screens(features: &str, care: Care) -> Result<Module, Trouble> {
    let which = ["-p", "pentally-app", "--no-default-features", "--features"];
    build(&[&which[..], &[features]].concat(), care)?;
    bind("pentally_app", care)
}

/// Builds and binds the scanner, which is loaded only when a tag is scanned.
pub fn scanner(care: Care) -> Result<Module, Trouble> {
    build(&["-p", "pentally-scanner"], care)?;
    bind("pentally_scanner", care)
}

/// Makes sure that Rust's wasm target is there. A toolchain file that names a
/// missing target is silently ignored, so it is asked for by hand.
pub fn ensure_target() -> Result<(), Trouble> {
    const TARGET: &str = "wasm32-unknown-unknown";
    let listed = command::answer(Command::new("rustup").args(["target", "list", "--installed"]))
        .map_err(|_| Trouble::Target)?;
    if listed.lines().any(|line| line.trim() == TARGET) {
        return Ok(());
    }
    command::run(Command::new("rustup").args(["target", "add", TARGET]))
        .map_err(|_| Trouble::Target)
}

fn build(which: &[&str], care: Care) -> Result<(), Trouble> {
    let mut cargo = command::cargo(&["build", "--lib", "--target", "wasm32-unknown-unknown"]);
    cargo.args(["--profile", care.profile()]).args(which);
    cargo.arg("--target-dir").arg(place::wasm_target());
    // Leptos then compiles each kind of view once, not once for each place it stands
    // in: smaller, and quicker to build.
    cargo.env("RUSTFLAGS", "--cfg erase_components");
    command::run(&mut cargo)
}

fn bind(name: &'static str, care: Care) -> Result<Module, Trouble> {
    let built = place::wasm_target()
        .join("wasm32-unknown-unknown")
        .join(care.profile());
    let input = built.join(name).with_extension("wasm");
    let refused = |why| Trouble::Bindgen {
        path: input.clone(),
        why: format!("{why:#}"),
    };
    let mut bindgen = Bindgen::new();
    bindgen
        .input_path(&input)
        .typescript(false)
        .omit_default_module_path(true);
    bindgen
        .remove_name_section(true)
        .remove_producers_section(true);
    let bindgen = bindgen.web(true).map_err(&refused)?;
    let mut output = bindgen.generate_output().map_err(&refused)?;
    let parts = parts(&output);
    let script = output.js().to_owned();
    Ok(Module {
        script,
        parts,
        code: output.wasm_mut().emit_wasm(),
    })
}

/// The scripts that libraries bring along, under the paths the glue imports.
fn parts(output: &Output) -> Vec<Part> {
    let inline = output.snippets().iter().flat_map(|(library, texts)| {
        let path = move |at| format!("./snippets/{library}/inline{at}.js");
        texts.iter().enumerate().map(move |(at, text)| Part {
            path: path(at),
            text: text.clone(),
        })
    });
    let local = output.local_modules().iter();
    let local = local.map(|(path, text)| Part {
        path: format!("./snippets/{path}"),
        text: text.clone(),
    });
    let mut parts: Vec<Part> = inline.chain(local).collect();
    parts.sort_by(|a, b| a.path.cmp(&b.path));
    parts
}
