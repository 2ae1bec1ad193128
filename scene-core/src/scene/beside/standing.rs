//! What an employer answers once for many jobs, in a file of its own: RON, like the scene.

use super::{Beside, open};
use crate::scene::basis::day;
use crate::scene::reader::read_tree;
use crate::scene::record::Record;
use crate::scene::value::Value;
use crate::site::{Standing, StandingAnswer};
use std::cell::RefCell;

/// Reads the file that stands at a value. `None` where that is a fault already.
pub(crate) fn standing(file: &Value<'_>, beside: &Beside) -> Option<Standing> {
    let (text, mut faults) = open(beside, file)?;
    let read = match read_tree(text) {
        Ok(node) => {
            faults.record = file.with_faults(|all| all.record.take()).map(Record::of_another_document);
            let found = RefCell::new(faults);
            let standing = answers(&Value::document(&node, &found), file.text());
            faults = found.into_inner();
            let record = faults.record.take().map(Record::of_the_scene_again);
            file.with_faults(|all| all.record = record);
            Some(standing)
        }
        Err((place, kind)) => {
            faults.add_at(place, "", kind);
            None
        }
    };
    file.with_faults(|all| all.absorb(faults));
    read
}

fn answers(document: &Value<'_>, file: &str) -> Standing {
    document.fields("the employer's standing answers", |f| {
        let employer = f.text("employer");
        let answers = f.need("answers").entries().into_iter().map(|(item, value)| answer(item, &value)).collect();
        f.note();
        Standing { file: file.to_owned(), employer, answers }
    })
}

fn answer(item: &str, value: &Value<'_>) -> StandingAnswer {
    value.fields("a standing answer", |f| {
        let answer = StandingAnswer {
            item: item.to_owned(),
            who: f.may_text("who"),
            when: day(f, "when"),
            document: f.may_text("document"),
            valid_until: day(f, "valid_until"),
            how: f.may_text("how"),
        };
        f.note();
        answer
    })
}
