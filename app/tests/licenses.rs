//! Every typeface that a package brings into the program has its license text in `assets/licenses`.

use std::collections::BTreeSet;
use std::env;
use std::fs;
use std::path::{Path, PathBuf};

const ROOT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/..");

/// Where cargo unpacked the packages of `Cargo.lock`, with their names.
fn packages() -> Vec<(String, PathBuf)> {
    let home = env::var_os("CARGO_HOME").map(PathBuf::from);
    let home = home.or_else(|| env::home_dir().map(|home| home.join(".cargo"))).unwrap();
    let registries: Vec<PathBuf> =
        fs::read_dir(home.join("registry/src")).unwrap().map(|entry| entry.unwrap().path()).collect();
    let lock = fs::read_to_string(Path::new(ROOT).join("Cargo.lock")).unwrap();
    let value = |line: Option<&str>, key: &str| line?.strip_prefix(key)?.strip_suffix('"').map(str::to_owned);
    let named = lock.split("[[package]]\n").skip(1).map(|package| {
        let mut lines = package.lines();
        let name = value(lines.next(), "name = \"").unwrap();
        let version = value(lines.next(), "version = \"").unwrap();
        (name, version)
    });
    named
        .flat_map(|(name, version)| {
            let folder = format!("{name}-{version}");
            registries.iter().map(move |registry| (name.clone(), registry.join(&folder))).collect::<Vec<_>>()
        })
        .filter(|(_, folder)| folder.is_dir())
        .collect()
}

/// All files under a folder but those of a package's own tests and examples.
fn files(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let aside = ["tests", "examples", "benches"].iter().any(|name| path.ends_with(name));
        match path.is_dir() {
            true if aside => {}
            true => found.extend(files(&path)),
            false => found.push(path),
        }
    }
    found
}

fn name_of(path: &Path) -> String {
    path.file_name().unwrap().to_string_lossy().into_owned()
}

#[test]
fn every_typeface_in_the_program_has_its_license_text() {
    let licenses = Path::new(ROOT).join("assets/licenses");
    let table = fs::read_to_string(licenses.join("fonts.csv")).unwrap();
    let rows = table.lines().filter(|line| !line.starts_with('#')).skip(1).map(|line| {
        let mut cells = line.split(',').map(str::to_owned);
        (cells.next().unwrap(), cells.next().unwrap(), cells.next().unwrap())
    });
    let mut listed = BTreeSet::new();
    let packages = packages();
    for (package, font, license) in rows {
        let text = fs::read_to_string(licenses.join(&license)).unwrap_or_else(|why| panic!("{license}: {why}"));
        assert!(text.contains("Copyright") || text.contains("COPYRIGHT"), "{license} names nobody's rights");
        // The package's own text, where it carries one, word for word.
        let carried = name_of(Path::new(&license));
        for (_, folder) in packages.iter().filter(|(name, _)| *name == package) {
            for file in files(folder).into_iter().filter(|file| name_of(file) == carried) {
                assert_eq!(fs::read_to_string(&file).unwrap(), text, "{license}");
            }
        }
        listed.insert((package, font));
    }
    let mut embedded = BTreeSet::new();
    for (package, folder) in &packages {
        let fonts = files(folder).into_iter().map(|file| name_of(&file));
        let fonts = fonts.filter(|name| [".ttf", ".otf"].iter().any(|end| name.to_lowercase().ends_with(end)));
        embedded.extend(fonts.map(|font| (package.clone(), font)));
    }
    assert_eq!(embedded, listed);
}
