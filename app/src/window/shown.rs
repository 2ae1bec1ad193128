//! What is shown, for systems: the open scene, at the time of the clock, as the view asks.

use super::OpenScene;
use super::clock::Clock;
use super::view::View;
use bevy::ecs::system::SystemParam;
use bevy::prelude::*;

/// For systems that show it.
#[derive(SystemParam)]
pub struct Shown<'w> {
    pub open: Res<'w, OpenScene>,
    pub clock: Res<'w, Clock>,
    pub view: Res<'w, View>,
}

impl Shown<'_> {
    pub fn step(&self) -> usize {
        self.clock.step_shown(&self.open)
    }
}

/// For systems that change it. Looking at it does not count as changing it.
#[derive(SystemParam)]
pub struct ShownMut<'w> {
    pub open: ResMut<'w, OpenScene>,
    pub clock: ResMut<'w, Clock>,
    pub view: ResMut<'w, View>,
}
