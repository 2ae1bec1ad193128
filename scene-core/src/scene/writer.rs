//! [`Tree`] → RON text, laid out as a person would: short things on one line, long ones a line per part.

use super::tree::{Node, Tree};
use std::fmt::Write;

/// Columns that a line may fill.
const WIDEST: usize = 110;

/// The text of a document.
pub fn write_tree(tree: &Tree) -> String {
    let mut out = String::new();
    let empty = match tree {
        Tree::List(items) | Tree::Tuple { items, .. } => items.is_empty(),
        Tree::Map(pairs) => pairs.is_empty(),
        _ => false,
    };
    if empty {
        write_inline(tree, &mut out)
    } else {
        write_broken(tree, 0, &mut out)
    }
    out.push('\n');
    out
}

/// On what is left of the line when it fits, else over several lines.
fn write_at(tree: &Tree, indent: usize, used: usize, out: &mut String) {
    let mut line = String::new();
    write_inline(tree, &mut line);
    if used + line.chars().count() < WIDEST {
        out.push_str(&line);
    } else {
        write_broken(tree, indent, out);
    }
}

fn write_broken(tree: &Tree, indent: usize, out: &mut String) {
    let inner = indent + 1;
    let (open, close) = brackets(tree);
    let margin = "  ".repeat(inner);
    match tree {
        Tree::List(items) | Tree::Tuple { items, .. } => {
            let _ = writeln!(out, "{open}");
            for item in items {
                out.push_str(&margin);
                write_at(&item.tree, inner, margin.len() + 1, out);
                out.push_str(",\n");
            }
        }
        Tree::Struct { fields, .. } => {
            let _ = writeln!(out, "{open}");
            for field in fields {
                let _ = write!(out, "{margin}{}: ", field.name);
                write_at(&field.value.tree, inner, margin.len() + field.name.len() + 3, out);
                out.push_str(",\n");
            }
        }
        Tree::Map(pairs) => {
            let _ = writeln!(out, "{open}");
            for (key, value) in pairs {
                out.push_str(&margin);
                write_inline(&key.tree, out);
                out.push_str(": ");
                write_at(&value.tree, inner, margin.len() + 20, out);
                out.push_str(",\n");
            }
        }
        _ => return write_inline(tree, out),
    }
    let _ = write!(out, "{}{close}", "  ".repeat(indent));
}

fn brackets(tree: &Tree) -> (String, char) {
    match tree {
        Tree::List(_) => ("[".to_owned(), ']'),
        Tree::Map(_) => ("{".to_owned(), '}'),
        Tree::Tuple { name, .. } | Tree::Struct { name, .. } => (format!("{}(", name.as_deref().unwrap_or("")), ')'),
        _ => (String::new(), ' '),
    }
}

fn write_inline(tree: &Tree, out: &mut String) {
    let (open, close) = brackets(tree);
    match tree {
        Tree::Bool(value) => out.push_str(if *value { "true" } else { "false" }),
        Tree::Number(text) | Tree::Name(text) => out.push_str(text),
        Tree::Char(c) => {
            out.push('\'');
            if *c == '\'' {
                out.push_str("\\'")
            } else {
                escape(*c, out)
            }
            out.push('\'');
        }
        Tree::Text(text) => {
            out.push('"');
            text.chars().for_each(|c| escape(c, out));
            out.push('"');
        }
        Tree::List(items) | Tree::Tuple { items, .. } => {
            out.push_str(&open);
            separated(items, out, |item: &Node, out| write_inline(&item.tree, out));
            out.push(close);
        }
        Tree::Struct { fields, .. } => {
            out.push_str(&open);
            separated(fields, out, |field, out| {
                let _ = write!(out, "{}: ", field.name);
                write_inline(&field.value.tree, out);
            });
            out.push(close);
        }
        Tree::Map(pairs) => {
            out.push_str(&open);
            separated(pairs, out, |(key, value), out| {
                write_inline(&key.tree, out);
                out.push_str(": ");
                write_inline(&value.tree, out);
            });
            out.push(close);
        }
    }
}

fn separated<T>(items: &[T], out: &mut String, mut write: impl FnMut(&T, &mut String)) {
    for (i, item) in items.iter().enumerate() {
        if i > 0 {
            out.push_str(", ");
        }
        write(item, out);
    }
}

fn escape(c: char, out: &mut String) {
    match c {
        '"' | '\\' => out.extend(['\\', c]),
        '\n' => out.push_str("\\n"),
        '\t' => out.push_str("\\t"),
        '\r' => out.push_str("\\r"),
        c if c.is_control() => {
            let _ = write!(out, "\\u{{{:x}}}", u32::from(c));
        }
        c => out.push(c),
    }
}
