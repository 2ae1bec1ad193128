//! The files beside a scene, each read once and again when it changes.

use crate::scene_file;
use scene_core::scene::beside::Beside;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

/// What was read, by the name that the scene gives each file.
#[derive(Default)]
pub struct BesideFiles(BTreeMap<String, Known>);

struct Known {
    /// When the file was written last, and its length.
    stamp: (SystemTime, u64),
    real: PathBuf,
    bytes: Vec<u8>,
}

impl BesideFiles {
    /// What a scene wants from these files. A file that lies outside of the scene's folder is not read, whatever links lead
    /// there.
    pub fn read(&mut self, scene: &Path, names: Vec<String>) -> Beside {
        let folder = scene_file::folder_of(scene);
        let mut beside = Beside::default();
        for name in names {
            let bytes = self.bytes(folder, &name);
            beside.put(&name, bytes);
        }
        beside
    }

    fn bytes(&mut self, folder: &Path, name: &str) -> Result<Vec<u8>, String> {
        let path = folder.join(name);
        let canonical = |path: &Path| path.canonicalize().map_err(scene_file::said);
        let (real, home) = (canonical(&path)?, canonical(folder)?);
        if !real.starts_with(home) {
            return Err("it lies outside of the scene's folder".to_owned());
        }
        let stamp = real.metadata().ok().and_then(|found| Some((found.modified().ok()?, found.len())));
        if let Some(known) = self.0.get(name)
            && Some(known.stamp) == stamp
            && known.real == real
        {
            return Ok(known.bytes.clone());
        }
        let bytes = scene_file::read_bytes(&real)?;
        if let Some(stamp) = stamp {
            self.0.insert(name.to_owned(), Known { stamp, real, bytes: bytes.clone() });
        }
        Ok(bytes)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fs;

    fn names() -> Vec<String> {
        vec!["a.csv".to_owned()]
    }

    fn said(text: &str) -> Beside {
        let mut beside = Beside::default();
        beside.put("a.csv", Ok(text.into()));
        beside
    }

    #[test]
    fn a_file_is_read_once_and_again_when_it_changes() {
        let folder = tempfile::tempdir().unwrap();
        let (scene, file) = (folder.path().join("job.ron"), folder.path().join("a.csv"));
        let mut files = BesideFiles::default();
        fs::write(&file, "one").unwrap();
        let written = fs::metadata(&file).unwrap().modified().unwrap();
        assert_eq!(files.read(&scene, names()), said("one"));
        // Nobody looks into a file that looks as it did.
        fs::write(&file, "two").unwrap();
        fs::File::options().write(true).open(&file).unwrap().set_modified(written).unwrap();
        assert_eq!(files.read(&scene, names()), said("one"));
        fs::write(&file, "three").unwrap();
        assert_eq!(files.read(&scene, names()), said("three"));
        fs::remove_file(&file).unwrap();
        let mut gone = Beside::default();
        gone.put("a.csv", Err("there is no such file".to_owned()));
        assert_eq!(files.read(&scene, names()), gone);
    }
}
