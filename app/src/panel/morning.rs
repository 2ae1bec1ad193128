//! This morning's figures: what is measured on the day, in one form. It is checked as one edit, and the form says what
//! changed.

use super::margin::{self, feet_inches};
use super::{Layers, Request, State, heading, quiet};
use crate::document::Edit;
use crate::field::FieldPath;
use crate::theme::{size, space};
use bevy_egui::egui::{self, RichText};
use scene_core::outcome::Report;
use scene_core::pole;
use scene_core::quantity::{Mass, Quantity, show};
use scene_core::scene::tree::{Field, Tree};

/// One line of the form.
#[derive(Clone, Debug, PartialEq)]
pub struct FormLine {
    pub what: String,
    pub path: FieldPath,
    pub text: String,
}

/// The lines of the form, with what the scene says now.
pub fn lines(tree: &Tree) -> Vec<FormLine> {
    let mut found = Vec::new();
    let root = FieldPath::default();
    let list = |path: &FieldPath| match path.find(tree) {
        Some(Tree::List(items)) => items.len(),
        _ => 0,
    };
    let text = |path: &FieldPath| match path.find(tree) {
        Some(Tree::Text(text)) => Some(text.clone()),
        _ => None,
    };
    let wires = root.field("wires");
    for i in 0..list(&wires) {
        let wire = wires.at(i);
        let name = text(&wire.field("name")).unwrap_or_default();
        let spans = wire.field("hang");
        for j in 0..list(&spans) {
            let hang = spans.at(j);
            let which = if list(&spans) > 1 { format!(", span {}", j + 1) } else { String::new() };
            let mut line = |what: &str, path: FieldPath| {
                if let Some(text) = text(&path) {
                    found.push(FormLine { what: format!("{what} {name}{which}"), path, text });
                }
            };
            match hang.find(tree) {
                Some(Tree::Tuple { name: Some(word), .. }) => line(&format!("{word} of"), hang.at(0)),
                Some(Tree::Struct { .. }) => line("conductor temperature of", hang.field("today")),
                _ => {}
            }
        }
    }
    let weather = root.field("weather");
    for i in 0..list(&weather) {
        let name = text(&weather.at(i).field("name")).unwrap_or_default();
        let path = weather.at(i).field("wind");
        if let Some(text) = text(&path) {
            found.push(FormLine { what: format!("wind, \"{name}\""), path, text });
        }
    }
    found
}

/// The scene with these figures. The weight is that of the pole with all that is on it: what the indicator shows, less hook
/// block and rigging. The balance point stays where it is.
pub fn with(state: &State, lines: &[FormLine], weight: &str) -> Result<Tree, String> {
    let mut tree = state.tree.clone();
    for line in lines {
        if let Some(place) = line.path.find_mut(&mut tree) {
            *place = Tree::Text(line.text.trim().to_owned());
        }
    }
    if weight.trim().is_empty() {
        return Ok(tree);
    }
    let weighed =
        Quantity::<Mass>::parse(weight.trim()).map_err(|why| format!("weight \"{weight}\": expected {why}"))?;
    let site = &state.rehearsal.site;
    let planned = pole::mass(&site.pole, &site.covers).map_err(|why| why.to_string())?;
    let bare = planned.parts.first().ok_or("the pole has no part that could be weighed")?;
    let on_it_kg: f64 = planned.parts.iter().skip(1).map(|part| (part.kg.low() + part.kg.high()) / 2.0).sum();
    let center_m = (bare.center_from_butt_m.low() + bare.center_from_butt_m.high()) / 2.0;
    let field = |name: &str, text: String| Field {
        place: Default::default(),
        name: name.to_owned(),
        value: Tree::Text(text).node(),
    };
    let maker = Tree::Struct {
        name: None,
        fields: vec![
            field("mass", format!("{:.1} kg", weighed.si() - on_it_kg)),
            field("balance_from_butt", format!("{center_m:.3} m")),
            field("note", format!("weighed on the day: {} with what is on it", weight.trim())),
        ],
    };
    let Some(Tree::Struct { fields, .. }) = FieldPath::of(&["pole"]).find_mut(&mut tree) else {
        return Err("the scene has no pole".to_owned());
    };
    match fields.iter_mut().find(|field| field.name == "maker") {
        Some(known) => known.value = maker.node(),
        None => fields.push(Field { place: Default::default(), name: "maker".to_owned(), value: maker.node() }),
    }
    Ok(tree)
}

/// Says what is different now, the nearest pairs first.
pub fn differences(before: &Report, after: &Report) -> Vec<String> {
    let mut said = Vec::new();
    if before.verdict != after.verdict {
        said.push(format!("Verdict: {} before, {} now.", verdict(before), verdict(after)));
    }
    if let (Some(was), Some(now)) = (before.pole.mass_kg, after.pole.mass_kg)
        && (was - now).abs() > 0.05
    {
        let pounds = |kg| show::show_mass(kg, show::Units::Us, show::Round::Up);
        said.push(format!("Pole: {} before, {} now.", pounds(was), pounds(now)));
    }
    let mut moved: Vec<_> = after
        .gaps
        .iter()
        .filter_map(|now| {
            let same = |was: &&scene_core::outcome::GapRow| {
                was.body == now.body && was.other == now.other && was.weather == now.weather
            };
            let was = before.gaps.iter().find(same)?;
            let differs = was.state != now.state || (was.margin_m - now.margin_m).abs() > 0.003;
            differs.then_some((was, now))
        })
        .collect();
    moved.sort_by(|a, b| a.1.worst_first(b.1));
    let more = moved.len().saturating_sub(8);
    for (was, now) in moved.into_iter().take(8) {
        let weather = if now.weather.is_empty() { String::new() } else { format!(" ({})", now.weather) };
        let (word, mark) = (margin::Look::of_state(now.state).word, margin::Look::of_state(now.state).mark);
        said.push(format!(
            "{mark} {} to {}{weather}: margin {} before, {} now, {word}.",
            now.body,
            now.other,
            feet_inches(was.margin_m),
            feet_inches(now.margin_m)
        ));
    }
    if more > 0 {
        said.push(format!("and {more} more pairs that changed"));
    }
    if said.is_empty() {
        said.push("Nothing that is shown changed.".to_owned());
    }
    said
}

fn verdict(report: &Report) -> &'static str {
    match report.verdict {
        scene_core::outcome::Verdict::Stop => "STOP",
        scene_core::outcome::Verdict::Caution => "caution",
        scene_core::outcome::Verdict::NoStopFound => "no stop found in what was checked",
    }
}

/// What is typed into the form, kept while it is open.
#[derive(Clone)]
struct Form {
    lines: Vec<FormLine>,
    weight: String,
    trouble: Option<String>,
    before: Option<std::sync::Arc<Report>>,
}

pub fn show(context: &egui::Context, state: &State, requests: &mut Vec<Request>) {
    let id = egui::Id::new("this morning's figures");
    let known = context.data(|data| data.get_temp::<Form>(id));
    let mut form =
        known.unwrap_or_else(|| Form { lines: lines(state.tree), weight: String::new(), trouble: None, before: None });
    let mut open = true;
    egui::Window::new("This morning's figures")
        .open(&mut open)
        .default_pos(context.viewport_rect().center() - egui::vec2(260.0, 250.0))
        .default_width(size::MORNING_WIDTH)
        .show(context, |ui| {
            let said = "Measured on the day. What is left as it was stays as planned.";
            ui.label(RichText::new(said).color(quiet(ui.visuals())));
            egui::Grid::new("morning").num_columns(2).spacing(space::FORM).show(ui, |ui| {
                for line in &mut form.lines {
                    ui.label(&line.what);
                    ui.add(egui::TextEdit::singleline(&mut line.text).desired_width(190.0));
                    ui.end_row();
                }
                ui.label("weight of the pole as it hangs,\nindicator less block and rigging");
                let hint =
                    egui::TextEdit::singleline(&mut form.weight).hint_text("not weighed yet").desired_width(190.0);
                ui.add(hint);
                ui.end_row();
            });
            ui.horizontal(|ui| {
                if ui.button(RichText::new("Run it again").strong()).clicked() {
                    match with(state, &form.lines, &form.weight) {
                        Ok(tree) => {
                            form.trouble = None;
                            form.before = Some(std::sync::Arc::new(state.rehearsal.report.clone()));
                            requests.push(Request::Edit(Edit::set(
                                "This morning's figures",
                                FieldPath::default(),
                                tree,
                            )));
                        }
                        Err(why) => form.trouble = Some(why),
                    }
                }
                if ui.button("As the scene has it").clicked() {
                    form.lines = lines(state.tree);
                    form.weight.clear();
                }
            });
            if let Some(trouble) = form.trouble.as_deref().or(state.trouble) {
                margin::badge(ui, trouble, margin::STOP);
            } else if let Some(before) = form.before.as_deref().filter(|_| !state.is_checking) {
                heading(ui, "What changed");
                for line in differences(before, &state.rehearsal.report) {
                    ui.label(line);
                }
            }
        });
    context.data_mut(|data| {
        if open {
            data.insert_temp(id, form);
        } else {
            data.remove::<Form>(id);
        }
    });
    if !open {
        requests.push(Request::Layers(Layers { morning: false, ..state.layers }));
    }
}
