//! Scene files on disk. They are read whole, and written so that nothing is ever lost.

use crate::beside_files::BesideFiles;
use scene_core::scene::fault::FaultKind;
use scene_core::scene::{self, Fault, Scene};
use scene_core::site::Site;
use std::fmt;
use std::io::{ErrorKind, Read, Write};
use std::path::Path;

/// The example that opens when no scene is named.
pub const FIRST_EXAMPLE: (&str, &str) =
    ("scenes/01_juniper_lane.ron", include_str!("../../scenes/01_juniper_lane.ron"));

/// The scenes that a new one can begin from.
#[cfg(feature = "window")]
pub const EXAMPLES: &[(&str, &str)] = &[
    ("job.ron", scene_core::scene::template()),
    FIRST_EXAMPLE,
    ("scenes/02_juniper_lane_first_sketch.ron", include_str!("../../scenes/02_juniper_lane_first_sketch.ron")),
    ("scenes/03_sorrel_flat.ron", include_str!("../../scenes/03_sorrel_flat.ron")),
    ("scenes/04_larch_bank.ron", include_str!("../../scenes/04_larch_bank.ron")),
    ("scenes/05_kestrel_yard.ron", include_str!("../../scenes/05_kestrel_yard.ron")),
    ("scenes/06_long_juniper.ron", include_str!("../../scenes/06_long_juniper.ron")),
];

/// Why a scene file cannot be used, in words for a person.
#[derive(Debug)]
pub struct Unusable(String);

impl fmt::Display for Unusable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Reads a scene file and looks everything up. Returns all faults of meaning at once, each with file, line and field.
pub fn open(path: &Path) -> Result<Site, Unusable> {
    build(&path.display().to_string(), &read(path)?).map(Scene::into_site)
}

/// Does the same with bytes that are already read.
pub fn build(name: &str, bytes: &[u8]) -> Result<Scene, Unusable> {
    if bytes.trim_ascii().is_empty() {
        return Err(Unusable(format!(
            "{name}:1:1: found an empty file; expected a scene\n    help: plumbrise new FILE writes one to start from"
        )));
    }
    let beside = BesideFiles::default().read(Path::new(name), scene::beside::names(bytes));
    scene::read_bytes_with(name, bytes, &beside).map_err(|faults| listed(name, &faults))
}

/// Returns the folder that holds the files beside a scene.
pub fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// Lists every fault, then says how many there are.
fn listed(name: &str, faults: &[Fault]) -> Unusable {
    let mut text = String::new();
    let (mut shown, mut left_out) = (0, 0);
    for fault in faults {
        if let FaultKind::AndMore { count } = fault.kind {
            left_out += count;
        } else {
            shown += 1;
            text.push_str(&format!("{fault}\n"));
        }
    }
    let total = shown + left_out;
    let count = if total == 1 { "1 fault".to_owned() } else { format!("{total} faults") };
    let part = if left_out > 0 { format!(", of which the first {shown} are shown") } else { String::new() };
    Unusable(format!("{text}{count} in {name}{part}: it cannot be used."))
}

/// Says in a sentence what is wrong with a file.
pub fn unusable(path: &Path, why: &str) -> Unusable {
    Unusable(format!("{}: {why}", path.display()))
}

fn not_written(path: &Path, why: &str) -> Unusable {
    unusable(path, &format!("{why}; nothing was written"))
}

/// Reads a file's bytes, no more than a scene may have.
pub fn read(path: &Path) -> Result<Vec<u8>, Unusable> {
    read_bytes(path).map_err(|why| unusable(path, &why))
}

/// Writes over a file that still holds what it held when it was read, whole or not at all.
#[cfg(feature = "window")]
pub fn write_over(path: &Path, known: &[u8], text: &str) -> Result<(), Unusable> {
    let fault = |why: &str| not_written(path, why);
    if read_bytes(path).map_err(|why| fault(&why))? != known {
        return Err(fault("the file changed since it was opened"));
    }
    written_beside(path, text.as_bytes())?.persist(path).map(drop).map_err(|e| fault(&e.error.to_string()))
}

/// Writes a file that belongs to the program, whatever is there.
pub fn write_anew(path: &Path, bytes: &[u8]) -> Result<(), Unusable> {
    written_beside(path, bytes)?.persist(path).map(drop).map_err(|e| not_written(path, &e.error.to_string()))
}

/// Writes a new file whole or not at all, and never over one that is already there.
pub fn write_new(path: &Path, text: &str) -> Result<(), Unusable> {
    let fault = |why: &str| not_written(path, why);
    if path.is_dir() || path.as_os_str().as_encoded_bytes().ends_with(b"/") {
        return Err(fault("found a folder; expected the name of a new file, for instance job.ron"));
    }
    written_beside(path, text.as_bytes())?.persist_noclobber(path).map(drop).map_err(|e| match e.error.kind() {
        ErrorKind::AlreadyExists => fault("there is already a file of this name"),
        _ => fault(&e.error.to_string()),
    })
}

/// Writes the text under another name, in the folder where it is to go.
fn written_beside(path: &Path, bytes: &[u8]) -> Result<tempfile::NamedTempFile, Unusable> {
    let fault = |why: &str| not_written(path, why);
    let folder = folder_of(path);
    if !folder.is_dir() {
        return Err(fault(&format!("there is no folder {}", folder.display())));
    }
    let mut file = new_file()
        .tempfile_in(folder)
        .map_err(|e| fault(&format!("cannot write in the folder {}: {}", folder.display(), e.kind())))?;
    file.write_all(bytes).and_then(|()| file.as_file().sync_all()).map_err(|e| fault(&e.to_string()))?;
    Ok(file)
}

/// A file beside the one to be written. Others may read it as they may read any new file.
fn new_file() -> tempfile::Builder<'static, 'static> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".plumbrise-");
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    builder
}

pub fn said(error: std::io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is no such file".to_owned(),
        ErrorKind::PermissionDenied => "it may not be read (permission denied)".to_owned(),
        ErrorKind::IsADirectory => "found a folder; expected a scene file".to_owned(),
        _ => error.to_string(),
    }
}

/// Reads at most one byte more than a scene may have, so that a huge file is refused without being read.
pub fn read_bytes(path: &Path) -> Result<Vec<u8>, String> {
    if path.is_dir() {
        return Err(said(ErrorKind::IsADirectory.into()));
    }
    let mut bytes = Vec::new();
    let file = std::fs::File::open(path).map_err(said)?;
    file.take(scene::reader::LARGEST as u64 + 1).read_to_end(&mut bytes).map_err(said)?;
    Ok(bytes)
}
