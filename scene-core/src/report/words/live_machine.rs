//! What protects people from a machine that became live, in words.

use super::Words;
use super::answers::listed;
use crate::finding::LiveMachine;

const RULE: &str = "29 CFR 1910.269(p)(4)(iii) [1926.959(d)(3)] (recalled in part; read the current text)";

pub(super) fn words(fact: &LiveMachine) -> Words {
    match fact {
        LiveMachine::NotAnswered { machine } => Words::new(
            format!("Nothing says what protects people should {machine} become live."),
            "Answer it under live_machines: lines covered, machine insulated, or people protected; who grounds it to what; who keeps off it.",
            RULE,
        ),
        LiveMachine::Unknown { machine, known } => Words::new(
            format!("live_machines names {machine}, which is no machine of the job that is asked for."),
            match known.is_empty() {
                true => String::new(),
                false => format!("The machines are {}.", listed(known, "and")),
            },
            RULE,
        ),
        LiveMachine::Unprotected { machine } => Words::new(
            format!(
                "Neither covered lines, nor insulation, nor protection of people stands behind {machine} should it become live."
            ),
            "Cover the lines, insulate the machine for the voltage, or protect people by ground, bond, mats and barricade.",
            RULE,
        ),
        LiveMachine::NotInsulated { machine } => Words::new(
            format!("{machine} is said to be insulated, but it has no insulation for the voltage of the line."),
            "Cover the lines, or protect people by ground, bond, mats and barricade.",
            RULE,
        ),
        LiveMachine::LinesBare { machine, bare } => Words::new(
            format!(
                "The lines are said to be covered should {machine} touch them, but nothing covers {}.",
                listed(bare, "and")
            ),
            "Cover every phase, or protect people by ground, bond, mats and barricade.",
            RULE,
        ),
        LiveMachine::TechniquesMissing { machine, missing } => Words::new(
            format!(
                "People about {machine} are to be protected by all four techniques, and nothing is said of {}.",
                listed(missing, "and")
            ),
            "State all four, or by which document the employer has shown that other methods protect each person.",
            RULE,
        ),
        LiveMachine::NotShown { machine } => Words::new(
            format!(
                "The employer's showing that other methods protect each person about {machine} names no method or no document."
            ),
            "State the method, and the document by its number or date; or use all four techniques.",
            RULE,
        ),
        LiveMachine::Lacks { machine, lacks } => Words::new(
            format!("Should {machine} become live, the scene does not say {}.", listed(lacks, "and")),
            "Say who grounds it on the day of the job, to what and by which lead, and who keeps off it.",
            RULE,
        ),
    }
}

#[cfg(test)]
pub(super) fn examples() -> Vec<LiveMachine> {
    let machine = || "Northfell 40".to_owned();
    vec![
        LiveMachine::NotAnswered { machine: machine() },
        LiveMachine::Unknown { machine: machine(), known: vec![] },
        LiveMachine::Unknown { machine: machine(), known: vec!["Tallis 46".to_owned()] },
        LiveMachine::Unprotected { machine: machine() },
        LiveMachine::NotInsulated { machine: machine() },
        LiveMachine::LinesBare { machine: machine(), bare: vec!["B".to_owned()] },
        LiveMachine::TechniquesMissing { machine: machine(), missing: vec!["bond", "mats"] },
        LiveMachine::NotShown { machine: machine() },
        LiveMachine::Lacks { machine: machine(), lacks: vec!["grounded_to"] },
    ]
}
