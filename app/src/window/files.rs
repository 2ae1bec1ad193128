//! Files: new from an example, open, save, save as, drop on the window; what an earlier run left unsaved; closing.

use super::OpenScene;
use super::clock::Clock;
use super::schedule::{Begin, Input, Panels};
use super::shown::ShownMut;
use super::view::{CONTROL, SHIFT, View, held};
use crate::document::{Document, Edit};
use crate::field::FieldPath;
use crate::panel::FileRequest;
use crate::scene_file::{EXAMPLES, Unusable};
use crate::theme::{size, space};
use bevy::prelude::*;
use bevy::window::{FileDragAndDrop, WindowCloseRequested, WindowFocused};
use bevy_egui::{EguiContexts, EguiPrimaryContextPass, egui};
use egui_file_dialog::FileDialog;
use scene_core::scene::tree::Tree;
use std::path::{Path, PathBuf};

pub struct FilesPlugin;

impl Plugin for FilesPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Files>()
            .add_systems(Startup, look_for_left_behind.in_set(Begin::LeftBehind))
            .add_systems(PreUpdate, (keys, dropped, closing, come_back).chain().in_set(Input::Files))
            .add_systems(EguiPrimaryContextPass, dialogs.in_set(Panels::Dialogs));
    }
}

/// What is being asked about files.
#[derive(Resource, Default)]
struct Files {
    dialog: Option<(FileDialog, Purpose)>,
    /// A request that waits for an answer, because something would be lost.
    held_up: Option<FileRequest>,
    /// What an earlier run left unsaved.
    left_behind: Option<Tree>,
    /// Another program wrote the file since it was opened.
    changed: bool,
    recent: Vec<PathBuf>,
    close: bool,
}

/// What a file dialog is open for.
#[derive(Clone, Debug, PartialEq)]
enum Purpose {
    Open,
    /// Once the file is saved, this is carried out.
    SaveAs(Option<FileRequest>),
}

fn look_for_left_behind(mut files: ResMut<Files>, mut open: ResMut<OpenScene>) {
    remember(&mut files, &mut open);
}

/// Looks for what goes with a scene that was just opened, and remembers its file.
fn remember(files: &mut Files, open: &mut OpenScene) {
    files.changed = false;
    files.left_behind = None;
    match open.document.left_behind() {
        Some(Ok(tree)) => files.left_behind = Some(tree),
        Some(Err(why)) => open.trouble = Some(format!("What an earlier run left unsaved cannot be read: {why}")),
        None => {}
    }
    if open.document.is_file() {
        let path = open.document.path().to_owned();
        files.recent.retain(|known| *known != path);
        files.recent.insert(0, path);
        files.recent.truncate(8);
    }
}

/// Takes the keys of files, wherever the keyboard's focus is.
fn keys(mut view: ResMut<View>, keys: Res<ButtonInput<KeyCode>>) {
    if !held(&keys, CONTROL) {
        return;
    }
    if keys.just_pressed(KeyCode::KeyS) {
        view.request_file(if held(&keys, SHIFT) { FileRequest::SaveAs } else { FileRequest::Save });
    } else if keys.just_pressed(KeyCode::KeyO) {
        view.request_file(FileRequest::Open);
    }
}

fn dropped(mut drops: MessageReader<FileDragAndDrop>, mut view: ResMut<View>) {
    for drop in drops.read() {
        if let FileDragAndDrop::DroppedFile { path_buf, .. } = drop {
            view.request_file(FileRequest::OpenThis(path_buf.clone()));
        }
    }
}

fn closing(mut asked: MessageReader<WindowCloseRequested>, mut view: ResMut<View>) {
    if asked.read().count() > 0 {
        view.request_file(FileRequest::Close);
    }
}

/// Looks at the file when the window is used again: another program may have written it meanwhile.
fn come_back(mut focus: MessageReader<WindowFocused>, mut files: ResMut<Files>, open: Res<OpenScene>) {
    if focus.read().any(|focus| focus.focused) {
        let changed = open.document.changed_underneath();
        if files.changed != changed {
            files.changed = changed;
        }
    }
}

fn dialogs(
    mut contexts: EguiContexts,
    mut files: ResMut<Files>,
    mut at: ShownMut,
    mut exit: MessageWriter<AppExit>,
) -> Result {
    let context = contexts.ctx_mut()?.clone();
    let files = files.bypass_change_detection();
    if let Some(file_request) = at.view.bypass_change_detection().file_request.take() {
        let loses = !matches!(file_request, FileRequest::Save | FileRequest::SaveAs | FileRequest::Open);
        if loses && !at.open.document.is_saved() {
            files.held_up = Some(file_request);
        } else {
            carry_out(file_request, files, &mut at);
        }
    }
    ask_about_unsaved(&context, files, &mut at);
    ask_about_left_behind(&context, files, &mut at);
    ask_about_changed(&context, files, &mut at);

    let picked = files.dialog.as_mut().map(|(dialog, purpose)| {
        dialog.update(&context);
        (dialog.take_picked(), purpose.clone(), matches!(dialog.state(), egui_file_dialog::DialogState::Open))
    });
    match picked {
        Some((Some(path), Purpose::Open, _)) => {
            files.dialog = None;
            at.view.request_file(FileRequest::OpenThis(path));
        }
        Some((Some(path), Purpose::SaveAs(then), _)) => {
            files.dialog = None;
            at.open.trouble = at.open.document.save_as(&path).err().map(|why| why.to_string());
            if at.open.trouble.is_none() {
                remember(files, &mut at.open);
                if let Some(file_request) = then {
                    at.view.request_file(file_request);
                }
            }
        }
        Some((None, _, false)) => files.dialog = None,
        _ => {}
    }
    if files.close {
        exit.write(AppExit::Success);
    }
    if at.view.recent != files.recent {
        at.view.recent = files.recent.clone();
    }
    Ok(())
}

/// Carries out a request that loses nothing.
fn carry_out(file_request: FileRequest, files: &mut Files, at: &mut ShownMut) {
    match file_request {
        FileRequest::Open => {
            let mut dialog = dialog(at.open.document.path()).title("Open a scene");
            dialog.pick_file();
            files.dialog = Some((dialog, Purpose::Open));
        }
        FileRequest::OpenThis(path) => show(Document::open(&path), files, at),
        FileRequest::New(example) => {
            if let Some((name, text)) = EXAMPLES.get(example) {
                show(Document::built_in(name, text), files, at);
            }
        }
        FileRequest::Save if at.open.document.is_file() => at.open.save(),
        FileRequest::Save | FileRequest::SaveAs => save_as(None, files, &at.open),
        FileRequest::Close => {
            at.open.document.forget_unsaved();
            files.close = true;
        }
    }
}

fn save_as(then: Option<FileRequest>, files: &mut Files, open: &OpenScene) {
    let name = open.document.path().file_name().map_or("job.ron".into(), |name| name.to_string_lossy().into_owned());
    let mut dialog = dialog(open.document.path())
        .title("Save the scene as a new file")
        .default_file_name(&name)
        .allow_file_overwrite(false);
    dialog.save_file();
    files.dialog = Some((dialog, Purpose::SaveAs(then)));
}

fn dialog(beside: &Path) -> FileDialog {
    let folder = beside.parent().filter(|folder| folder.is_dir()).map(Path::to_owned);
    let folder = folder.or_else(|| std::env::current_dir().ok()).unwrap_or_default();
    FileDialog::new()
        .initial_directory(folder)
        .add_file_filter_extensions("Scenes", vec!["ron"])
        .default_file_filter("Scenes")
        .as_modal(true)
        .show_search(false)
        .anchor(egui::Align2::CENTER_CENTER, [0.0, 0.0])
}

/// Shows another scene. One that cannot be used changes nothing.
fn show(read: Result<Document, Unusable>, files: &mut Files, at: &mut ShownMut) {
    match read {
        Ok(document) => {
            at.open.document.forget_unsaved();
            *at.open = OpenScene::new(document);
            *at.clock = Clock::default();
            at.view.look_anew(&at.open.rehearsal.site);
            remember(files, &mut at.open);
        }
        Err(why) => at.open.trouble = Some(why.to_string()),
    }
}

/// Asks a question in the middle of the window. Returns the index of the answer, once there is one.
fn question(context: &egui::Context, title: &str, text: &str, answers: &[&str]) -> Option<usize> {
    let mut given = None;
    egui::Modal::new(egui::Id::new(title)).show(context, |ui| {
        ui.set_max_width(size::QUESTION_WIDTH);
        ui.heading(title);
        ui.add_space(space::GROUP);
        ui.label(text);
        ui.add_space(space::ANSWERS);
        ui.horizontal(|ui| {
            for (index, answer) in answers.iter().enumerate() {
                if ui.button(*answer).clicked() {
                    given = Some(index);
                }
            }
        });
    });
    given
}

fn ask_about_unsaved(context: &egui::Context, files: &mut Files, at: &mut ShownMut) {
    let Some(file_request) = files.held_up.clone().filter(|_| files.dialog.is_none()) else { return };
    let text = format!("{} has changes that are not saved.", at.open.document.path().display());
    let answer = question(context, "Not saved yet", &text, &["Save", "Go on without saving", "Stay here"]);
    let Some(answer) = answer else { return };
    files.held_up = None;
    match answer {
        0 if at.open.document.is_file() => {
            at.open.save();
            if at.open.trouble.is_none() {
                carry_out(file_request, files, at);
            }
        }
        0 => save_as(Some(file_request), files, &at.open),
        1 => carry_out(file_request, files, at),
        _ => {}
    }
}

fn ask_about_left_behind(context: &egui::Context, files: &mut Files, at: &mut ShownMut) {
    let Some(tree) = &files.left_behind else { return };
    let text = "The program ended before the changes to this scene were saved. They were kept.";
    let answers = ["Take them up", "Throw them away"];
    match question(context, "Changes from an earlier run", text, &answers) {
        Some(0) => {
            let edit = Edit::set("Take up what was not saved", FieldPath::default(), tree.clone());
            files.left_behind = None;
            let time_s = at.clock.time_s;
            at.open.apply(&edit, false, time_s);
        }
        Some(_) => {
            files.left_behind = None;
            at.open.document.forget_unsaved();
        }
        None => {}
    }
}

fn ask_about_changed(context: &egui::Context, files: &mut Files, at: &mut ShownMut) {
    if !files.changed {
        return;
    }
    let text =
        format!("{} was changed by another program since it was opened here.", at.open.document.path().display());
    let answers = ["Open it anew, dropping what is here", "Keep what is here, save it as another file"];
    match question(context, "The file changed", &text, &answers) {
        Some(0) => {
            files.changed = false;
            let path = at.open.document.path().to_owned();
            show(Document::open(&path), files, at);
        }
        Some(_) => {
            files.changed = false;
            save_as(None, files, &at.open);
        }
        None => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene_file::FIRST_EXAMPLE;

    #[test]
    fn a_file_that_another_program_wrote_is_noticed_when_the_window_is_come_back_to() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("job.ron");
        std::fs::write(&path, FIRST_EXAMPLE.1).unwrap();
        let open = OpenScene::new(Document::open(&path).unwrap());
        let mut app = App::new();
        app.add_plugins(MinimalPlugins)
            .add_message::<FileDragAndDrop>()
            .add_message::<WindowCloseRequested>()
            .add_message::<WindowFocused>()
            .init_resource::<ButtonInput<KeyCode>>()
            .insert_resource(View::about(&open.rehearsal.site))
            .init_resource::<Clock>()
            .insert_resource(open)
            .add_plugins(FilesPlugin);
        let mut come_back = || {
            app.world_mut().write_message(WindowFocused { window: Entity::PLACEHOLDER, focused: true });
            app.update();
            app.world().resource::<Files>().changed
        };
        assert!(!come_back());
        std::fs::write(&path, FIRST_EXAMPLE.1.replace("Juniper Lane", "Alder Road")).unwrap();
        assert!(come_back());
        std::fs::write(&path, FIRST_EXAMPLE.1).unwrap();
        assert!(!come_back(), "it is as it was opened");
    }
}
