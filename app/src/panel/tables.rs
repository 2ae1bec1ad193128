//! Check: what was worked out, as tables of gaps, capacity, hanging, wires, and what it rests on. A click on a row goes to its
//! time and place.

use super::margin::{Look, feet_inches};
use super::{Request, State, quiet};
use crate::theme::{font, size, space};
use bevy_egui::egui::{self, RichText};
use egui_extras::{Column, TableBuilder};
use scene_core::quantity::show::{Round, Units, show_duration, show_force, show_mass};
use scene_core::quantity::unit::FOOT_M;
use scene_core::report::{text, words};

const TABLES: [&str; 6] = ["Gaps", "Capacity", "Pole and hanging", "Wires", "What it rests on", "Whole report"];

pub fn show(ui: &mut egui::Ui, state: &State, requests: &mut Vec<Request>) {
    let id = egui::Id::new("which table");
    let mut which = ui.data(|data| data.get_temp::<usize>(id)).unwrap_or(0);
    ui.add_space(space::LINE);
    ui.horizontal_wrapped(|ui| {
        for (index, name) in TABLES.iter().enumerate() {
            if ui.selectable_label(which == index, *name).clicked() {
                which = index;
            }
        }
    });
    ui.data_mut(|data| data.insert_temp(id, which));
    ui.separator();
    match which {
        0 => gaps(ui, state, requests),
        1 => capacity(ui, state, requests),
        2 => hanging(ui, state),
        3 => wires(ui, state),
        4 => rests_on(ui, state),
        _ => whole(ui, state),
    }
}

/// One row of a table: what is in its cells, and what a click on it asks for.
struct TableRow {
    cells: Vec<RichText>,
    requests: Vec<Request>,
    /// The row holds at this instant.
    here: bool,
}

/// A table. Each column has a title, a width in points, and true where its cells stand to the right, as numbers do. What is
/// wider than the panel is reached by scrolling.
fn table(
    ui: &mut egui::Ui,
    name: &str,
    columns: &[(&str, f32, bool)],
    rows: Vec<TableRow>,
    requests: &mut Vec<Request>,
) {
    egui::ScrollArea::horizontal().id_salt((name, "across")).auto_shrink([false, false]).show(ui, |ui| {
        columns_and_rows(ui, name, columns, rows, requests);
    });
}

fn columns_and_rows(
    ui: &mut egui::Ui,
    name: &str,
    columns: &[(&str, f32, bool)],
    rows: Vec<TableRow>,
    requests: &mut Vec<Request>,
) {
    let mut builder = TableBuilder::new(ui).id_salt(name).striped(true).resizable(true).sense(egui::Sense::click());
    for (index, (_, wide, _)) in columns.iter().enumerate() {
        let column = if index + 1 == columns.len() {
            Column::remainder().at_least(*wide)
        } else {
            Column::initial(*wide).at_least(34.0)
        };
        builder = builder.column(column.clip(true));
    }
    let layout = |right: bool| {
        if right {
            egui::Layout::right_to_left(egui::Align::Center)
        } else {
            egui::Layout::left_to_right(egui::Align::Center)
        }
    };
    builder
        .header(size::TABLE_HEAD, |mut header| {
            for (name, _, right) in columns {
                header.col(|ui| {
                    ui.with_layout(layout(*right), |ui| ui.label(RichText::new(*name).strong()));
                });
            }
        })
        .body(|body| {
            body.rows(size::TABLE_ROW, rows.len(), |mut row| {
                let Some(shown) = rows.get(row.index()) else { return };
                row.set_selected(shown.here);
                for (cell, (_, _, right)) in shown.cells.iter().zip(columns) {
                    row.col(|ui| {
                        ui.with_layout(layout(*right), |ui| {
                            ui.add(egui::Label::new(cell.clone()).selectable(false).truncate());
                        });
                    });
                }
                if row.response().clicked() {
                    requests.extend(shown.requests.iter().cloned());
                }
            });
        });
}

fn plain(text: impl Into<String>) -> RichText {
    RichText::new(text)
}

fn gaps(ui: &mut egui::Ui, state: &State, requests: &mut Vec<Request>) {
    let report = &state.rehearsal.report;
    let dark = ui.visuals().dark_mode;
    let mut order: Vec<_> = report.gaps.iter().enumerate().collect();
    order.sort_by(|a, b| a.1.worst_first(b.1));
    let rows = order
        .into_iter()
        .map(|(index, row)| {
            let look = Look::of_state(row.state);
            let word = plain(format!("{} {}", look.mark, look.word)).strong();
            TableRow {
                cells: vec![
                    plain(&row.body),
                    plain(&row.other),
                    if dark { word } else { word.color(look.ink()) },
                    plain(feet_inches(row.margin_m)).monospace(),
                    plain(feet_inches(row.low_m)).monospace(),
                    plain(feet_inches(row.allowance_m)).monospace(),
                    plain(if row.required_m > 0.0 { feet_inches(row.required_m) } else { "none".to_owned() })
                        .monospace(),
                    plain(row.step.map_or(String::new(), |step| (step + 1).to_string())),
                    plain(&row.weather),
                    plain(&row.rule),
                ],
                requests: state.there(row),
                here: state.nearest.is_some_and(|nearest| nearest.row == index),
            }
        })
        .collect();
    let columns = [
        ("body", 92.0, false),
        ("to", 116.0, false),
        ("state", 84.0, false),
        ("margin", 90.0, true),
        ("gap", 90.0, true),
        ("allowances", 90.0, true),
        ("required", 90.0, true),
        ("step", 38.0, true),
        ("weather", 62.0, false),
        ("rule", 260.0, false),
    ];
    table(ui, "gaps", &columns, rows, requests);
}

fn capacity(ui: &mut egui::Ui, state: &State, requests: &mut Vec<Request>) {
    let report = &state.rehearsal.report;
    let rows = report
        .capacity
        .iter()
        .map(|row| {
            let unknown = || "not in the chart".to_owned();
            let used = row.used_percent.map_or_else(unknown, |used| format!("{} %", used.ceil()));
            TableRow {
                cells: vec![
                    plain((row.step + 1).to_string()),
                    plain(report.steps.get(row.step).map_or("", |step| step.name.as_str())),
                    plain(show_duration(row.time_s)).monospace(),
                    plain(format!("{:.1} ft", row.radius_m / FOOT_M)).monospace(),
                    plain(format!("{:.1} ft", row.boom_length_m / FOOT_M)).monospace(),
                    plain(format!("{:.1}°", row.boom_angle_deg)).monospace(),
                    plain(show_mass(row.load_kg, Units::Us, Round::Up)).monospace(),
                    plain(row.rated_kg.map_or_else(unknown, |kg| show_mass(kg, Units::Us, Round::Down))).monospace(),
                    plain(used).monospace(),
                    plain(words::ruled_by(row.ruled_by.as_ref(), Units::Both)),
                ],
                requests: vec![Request::Go(row.time_s)],
                here: row.step == state.step,
            }
        })
        .collect();
    let columns = [
        ("step", 38.0, true),
        ("", 170.0, false),
        ("at", 92.0, true),
        ("radius", 64.0, true),
        ("boom", 64.0, true),
        ("angle", 52.0, true),
        ("load", 70.0, true),
        ("rated", 78.0, true),
        ("used", 56.0, true),
        ("ruled by", 220.0, false),
    ];
    table(ui, "capacity", &columns, rows, requests);
}

fn wires(ui: &mut egui::Ui, state: &State) {
    let rows = state
        .rehearsal
        .report
        .wires
        .iter()
        .map(|row| {
            let force = |n: f64, round| show_force(n, Units::Us, round);
            let cells = vec![
                plain(&row.wire),
                plain(&row.weather),
                plain(&row.state),
                plain(format!("{:.1} ft", row.span_m / FOOT_M)).monospace(),
                plain(format!("{} to {}", feet_inches(row.sag_low_m), feet_inches(row.sag_high_m))).monospace(),
                plain(format!(
                    "{} to {}",
                    force(row.horizontal_tension_low_n, Round::Down),
                    force(row.horizontal_tension_high_n, Round::Up)
                ))
                .monospace(),
                plain(format!("{:.1}°", row.blowout_deg)).monospace(),
            ];
            TableRow { cells, requests: Vec::new(), here: false }
        })
        .collect();
    let columns = [
        ("wire", 80.0, false),
        ("weather", 66.0, false),
        ("state", 160.0, false),
        ("span", 70.0, true),
        ("sag", 130.0, true),
        ("horizontal tension", 150.0, true),
        ("blowout", 60.0, true),
    ];
    table(ui, "wires", &columns, rows, &mut Vec::new());
}

fn hanging(ui: &mut egui::Ui, state: &State) {
    let report = &state.rehearsal.report;
    let pole = &report.pole;
    egui::ScrollArea::vertical().show(ui, |ui| {
        egui::Grid::new("pole").num_columns(2).spacing(space::FACTS).striped(true).show(ui, |ui| {
            let unknown = || "not known".to_owned();
            let mut line = |what: &str, text: String| {
                ui.label(what);
                ui.label(RichText::new(text).monospace());
                ui.end_row();
            };
            let pounds = |kg: f64| show_mass(kg, Units::Us, Round::Up);
            line("pole", pole.name.clone());
            line("length", feet_inches(pole.length_m));
            line("weight with all that is on it", pole.mass_kg.map_or_else(unknown, pounds));
            line("balance point from the butt", pole.balance_from_butt_m.map_or_else(unknown, feet_inches));
            line("choker from the butt", feet_inches(pole.pick_from_butt_m));
            line("hangs off plumb by", pole.hang_tilt_deg.map_or_else(unknown, |deg| format!("{deg:.1}°")));
            let force = |n: f64| show_force(n, Units::Us, Round::Up);
            line("side force at the butt that holds it plumb", pole.butt_hold_force_n.map_or_else(unknown, force));
            line(
                "on the hook while the butt is on the ground",
                pole.hook_load_butt_grounded_kg.map_or_else(unknown, pounds),
            );
            line("setting depth", feet_inches(pole.setting_depth_m));
            line("from", pole.source.clone());
            for row in &report.chokers {
                let height = |m: Option<f64>| m.map_or_else(|| "none".to_owned(), feet_inches);
                line(
                    &format!("choker, {}", row.way),
                    format!(
                        "{} to {}: {}",
                        height(row.low_from_butt_m),
                        height(row.high_from_butt_m),
                        words::choker(&row.why, Units::Both)
                    ),
                );
            }
            for row in &report.held_out {
                let held = row.side_force_n.map_or_else(unknown, force);
                line(&format!("{} holds {}", row.name, row.wire), format!("side force {held}"));
            }
        });
    });
}

fn rests_on(ui: &mut egui::Ui, state: &State) {
    let report = &state.rehearsal.report;
    egui::ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        let mut part = |title: &str, lines: &mut dyn Iterator<Item = String>| {
            super::heading(ui, title);
            for line in lines {
                ui.label(format!("• {line}"));
            }
        };
        part("Not checked", &mut report.not_checked.iter().map(words::not_checked));
        part("Assumed", &mut report.assumed.iter().map(|assumed| words::assumed(assumed, Units::Both)));
        let allowance = |row: &scene_core::outcome::AllowanceRow| {
            format!("{}: {}, {}", row.what, feet_inches(row.value_m), row.reason)
        };
        part("How well the world is known, as the scene states it", &mut report.allowances.iter().map(allowance));
        part("Sources", &mut report.sources.iter().cloned());
    });
}

fn whole(ui: &mut egui::Ui, state: &State) {
    let report = text::render(&state.rehearsal.report, text::Look { units: Units::Us, colour: false });
    ui.label(RichText::new("As plumbrise check prints it.").small().color(quiet(ui.visuals())));
    egui::ScrollArea::both().auto_shrink([false, false]).show(ui, |ui| {
        ui.add(egui::Label::new(RichText::new(report).monospace().size(font::REPORT)).extend());
    });
}
