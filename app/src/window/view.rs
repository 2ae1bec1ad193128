//! What is shown, and the point that the camera turns about.

use crate::panel::{FileRequest, Layers, Mode};
use bevy::prelude::*;
use scene_core::site::Site;
use std::path::PathBuf;

/// What is shown, and what is asked for by one part of the window of another.
#[derive(Resource)]
pub struct View {
    /// The point that the camera turns about, engine axes.
    pub about: Vec3,
    pub mode: Mode,
    pub layers: Layers,
    pub weather: usize,
    pub dark: bool,
    /// The size of everything in the panels, against normal.
    pub text_scale: f32,
    /// What the panels take of the window at the left, top, right and bottom, logical pixels.
    pub taken: [f32; 4],
    /// The pointer is over the site and over no panel.
    pub pointer_on_site: bool,
    /// Where the camera is asked to look.
    pub look_at: Option<Vec3>,
    /// Which camera is asked for, by its number key.
    pub camera: Option<usize>,
    /// What is asked for of files.
    pub file_request: Option<FileRequest>,
    pub recent: Vec<PathBuf>,
}

impl View {
    pub fn about(site: &Site) -> Self {
        Self {
            about: middle(site),
            mode: Mode::Plan,
            layers: Layers::default(),
            weather: 0,
            dark: false,
            text_scale: 1.0,
            taken: [0.0; 4],
            pointer_on_site: false,
            look_at: None,
            camera: None,
            file_request: None,
            recent: Vec::new(),
        }
    }

    /// Turns to another site.
    pub fn look_anew(&mut self, site: &Site) {
        self.about = middle(site);
        self.weather = 0;
        self.camera = Some(1);
    }

    pub fn request_file(&mut self, file_request: FileRequest) {
        self.file_request = Some(file_request);
    }
}

fn middle(site: &Site) -> Vec3 {
    let (hole, crane) = (site.hole.at, site.crane.at);
    super::axes::to_engine(hole + (crane - hole) * 0.35) + Vec3::Y * 12.0
}

/// For systems that take what the pointer does as meant for the site view.
pub fn pointer_on_site(view: Res<View>) -> bool {
    view.pointer_on_site
}

pub const CONTROL: [KeyCode; 2] = [KeyCode::ControlLeft, KeyCode::ControlRight];
pub const SHIFT: [KeyCode; 2] = [KeyCode::ShiftLeft, KeyCode::ShiftRight];

/// One of the two keys is down, or was while this frame's other keys were pressed: after a slow frame all may be up again.
pub fn held(keys: &ButtonInput<KeyCode>, both: [KeyCode; 2]) -> bool {
    keys.any_pressed(both) || keys.any_just_pressed(both) || keys.any_just_released(both)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_control_key_that_is_up_again_within_a_slow_frame_still_counts() {
        let mut keys = ButtonInput::<KeyCode>::default();
        keys.press(KeyCode::ControlLeft);
        keys.clear();
        keys.press(KeyCode::KeyS);
        keys.release(KeyCode::KeyS);
        keys.release(KeyCode::ControlLeft);
        assert!(held(&keys, CONTROL) && keys.just_pressed(KeyCode::KeyS));
        keys.clear();
        assert!(!held(&keys, CONTROL));
    }
}
