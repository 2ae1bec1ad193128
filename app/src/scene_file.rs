//! Scene files on disk: read whole, written so that nothing is ever lost.

use scene_core::scene;
use scene_core::site::Site;
use std::fmt;
use std::io::{ErrorKind, Read, Write};
use std::path::Path;

/// The example that opens when no scene is named.
pub const FIRST_EXAMPLE: (&str, &str) =
    ("scenes/01_juniper_lane.ron", include_str!("../../scenes/01_juniper_lane.ron"));

/// A scene file that cannot be used, as a person should read it.
#[derive(Debug)]
pub struct Unusable(String);

impl fmt::Display for Unusable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Reads a scene file and looks everything up. All faults of meaning come together, each with file, line and field.
pub fn open(path: &Path) -> Result<Site, Unusable> {
    let name = path.display().to_string();
    let bytes = read_bytes(path).map_err(|why| Unusable(format!("{name}: {why}")))?;
    build(&name, &bytes)
}

/// The same for bytes already at hand.
pub fn build(name: &str, bytes: &[u8]) -> Result<Site, Unusable> {
    scene::read_bytes(name, bytes).and_then(|scene| scene.site()).map_err(|faults| {
        let lines: Vec<String> = faults.iter().map(ToString::to_string).collect();
        Unusable(lines.join("\n"))
    })
}

/// Writes a new file at once or not at all; never over one that is already there.
pub fn write_new(path: &Path, text: &str) -> Result<(), Unusable> {
    let fault = |why: &dyn fmt::Display| Unusable(format!("{}: {why}; nothing was written", path.display()));
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let mut file = tempfile::Builder::new()
        .prefix(".plumbrise-")
        .tempfile_in(folder)
        .map_err(|e| fault(&format_args!("cannot write in {}: {e}", folder.display())))?;
    file.write_all(text.as_bytes()).and_then(|()| file.as_file().sync_all()).map_err(|e| fault(&e))?;
    file.persist_noclobber(path).map(drop).map_err(|e| match e.error.kind() {
        ErrorKind::AlreadyExists => fault(&"there is already a file of this name"),
        _ => fault(&e.error),
    })
}

/// No more than one byte over what a scene may have, so that a huge file is refused without being read.
fn read_bytes(path: &Path) -> Result<Vec<u8>, String> {
    let file = std::fs::File::open(path).map_err(|e| match e.kind() {
        ErrorKind::NotFound => "no such file".to_owned(),
        _ => e.to_string(),
    })?;
    let mut bytes = Vec::new();
    file.take(scene::reader::LARGEST as u64 + 1).read_to_end(&mut bytes).map_err(|e| e.to_string())?;
    Ok(bytes)
}
