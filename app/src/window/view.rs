//! What is shown, and about which point the camera turns.

use bevy::prelude::*;
use scene_core::site::Site;

#[derive(Resource)]
pub struct View {
    /// Engine axes.
    pub about: Vec3,
    pub weather: usize,
    pub report_open: bool,
    pub names: bool,
    pub dark: bool,
    /// The part of the window that the site is seen in, logical pixels: left, top, right, bottom taken by panels.
    pub taken: [f32; 4],
    /// The pointer is over the site and over no panel.
    pub pointer_on_site: bool,
    /// Where the camera is asked to look.
    pub look_at: Option<Vec3>,
}

impl View {
    pub fn about(site: &Site) -> Self {
        let (hole, crane) = (site.hole.at, site.crane.at);
        let middle = hole + (crane - hole) * 0.35;
        Self {
            about: super::axes::to_engine(middle) + Vec3::Y * 12.0,
            weather: 0,
            report_open: false,
            names: true,
            dark: false,
            taken: [0.0; 4],
            pointer_on_site: false,
            look_at: None,
        }
    }
}

/// For systems that take what the pointer does as meant for the site.
pub fn pointer_on_site(view: Res<View>) -> bool {
    view.pointer_on_site
}
