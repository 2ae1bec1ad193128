//! Plain text tables with aligned columns. Widths are those of a terminal.

use unicode_width::UnicodeWidthStr;

/// Which side the text of a column keeps to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    Left,
    Right,
}

/// Rows of text under a heading, each column as wide as its widest cell. So that no line gets too wide, the last column is
/// broken at blanks when it keeps to the left, otherwise the widest that does.
#[derive(Clone, Debug, Default)]
pub struct Table {
    columns: Vec<(String, Align)>,
    rows: Vec<Vec<String>>,
}

/// A column is not made narrower than this: the last, any other.
const NARROWEST: usize = 20;
const NARROWEST_WITHIN: usize = 12;

impl Table {
    pub fn new(columns: &[(&str, Align)]) -> Self {
        Self { columns: columns.iter().map(|(name, align)| ((*name).to_owned(), *align)).collect(), rows: Vec::new() }
    }

    pub fn row(&mut self, cells: Vec<String>) {
        self.rows.push(cells);
    }

    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// The lines of the heading, then those of each row, without trailing blanks, each indented by two.
    pub fn blocks(&self, most: usize) -> Vec<Vec<String>> {
        let width = |i: usize| {
            let head = self.columns.get(i).map_or(0, |c| c.0.width());
            self.rows.iter().filter_map(|r| r.get(i)).map(|c| c.width()).fold(head, usize::max)
        };
        let mut widths: Vec<usize> = (0..self.columns.len()).map(width).collect();
        let left = |i: usize| self.columns.get(i).is_some_and(|(_, align)| *align == Align::Left);
        let last = self.columns.len().saturating_sub(1);
        // The last column when it keeps to the left; then the widest that do.
        let mut breaks: Vec<usize> = (0..last).filter(|i| left(*i)).collect();
        breaks.sort_by_key(|i| std::cmp::Reverse(widths.get(*i).copied()));
        if left(last) {
            breaks.insert(0, last);
        }
        for i in breaks {
            let used: usize = widths.iter().map(|width| width + 2).sum();
            let least = if i == last { NARROWEST } else { NARROWEST_WITHIN };
            if let Some(width) = widths.get_mut(i) {
                let over = used.saturating_sub(most);
                *width = (*width).min(width.saturating_sub(over).max(least));
            }
        }
        let heading: Vec<String> = self.columns.iter().map(|c| c.0.clone()).collect();
        std::iter::once(&heading).chain(&self.rows).map(|cells| self.block(cells, &widths)).collect()
    }

    fn block(&self, cells: &[String], widths: &[usize]) -> Vec<String> {
        let pieces = |(cell, width): (&String, &usize)| match cell.width() > *width {
            true => broken(cell, *width),
            false => vec![cell.clone()],
        };
        let cells: Vec<Vec<String>> = cells.iter().zip(widths).map(pieces).collect();
        let of_line = |i: usize| -> Vec<String> {
            cells.iter().map(|pieces| pieces.get(i).cloned().unwrap_or_default()).collect()
        };
        let lines = cells.iter().map(Vec::len).max().unwrap_or(0);
        (0..lines).map(|i| self.line(&of_line(i), widths)).collect()
    }

    fn line(&self, cells: &[String], widths: &[usize]) -> String {
        let mut line = String::from(" ");
        for ((cell, width), (_, align)) in cells.iter().zip(widths).zip(&self.columns) {
            let gap = " ".repeat(width.saturating_sub(cell.width()));
            line.push(' ');
            match align {
                Align::Left => line.extend([cell.as_str(), &gap]),
                Align::Right => line.extend([&gap, cell.as_str()]),
            }
            line.push(' ');
        }
        line.trim_end().to_owned()
    }
}

/// A text in pieces at most so wide, broken at blanks but not between a number and its unit; what is longer
/// stays whole.
pub fn broken(text: &str, most: usize) -> Vec<String> {
    let mut pieces: Vec<String> = Vec::new();
    let mut used = 0;
    let mut words = text.split_whitespace().peekable();
    while let Some(word) = words.next() {
        let mut whole = word.to_owned();
        // Feet and inches are one quantity.
        let mut part = word;
        while is_number(part) {
            let Some(unit) = words.next() else { break };
            whole = format!("{whole} {unit}");
            match words.next_if(|next| unit == "ft" && is_number(next)) {
                Some(inches) => {
                    whole = format!("{whole} {inches}");
                    part = inches;
                }
                None => break,
            }
        }
        let long = whole.width();
        match pieces.last_mut() {
            Some(piece) if used + 1 + long <= most => {
                piece.push(' ');
                piece.push_str(&whole);
                used += 1 + long;
            }
            _ => {
                pieces.push(whole);
                used = long;
            }
        }
    }
    pieces
}

fn is_number(word: &str) -> bool {
    let whole = word.trim_start_matches('(').trim_end_matches(['¼', '½', '¾']);
    whole.parse::<f64>().is_ok() || (whole.is_empty() && word.ends_with(['¼', '½', '¾']))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn feet_and_inches_stand_on_one_line() {
        assert_eq!(broken("gap 5 ft 3¼ in less 1 ft ¾ in", 16), ["gap 5 ft 3¼ in", "less 1 ft ¾ in"]);
        assert_eq!(broken("it is 12 ft", 8), ["it is", "12 ft"]);
        assert_eq!(broken("over 7", 5), ["over", "7"]);
    }

    #[test]
    fn numbers_line_up_on_the_right_and_words_on_the_left() {
        let mut table = Table::new(&[("wire", Align::Left), ("gap", Align::Right)]);
        table.row(vec!["A".into(), "12.31 ft".into()]);
        table.row(vec!["neutral".into(), "4.02 ft".into()]);
        assert_eq!(table.blocks(80), [["  wire          gap"], ["  A        12.31 ft"], ["  neutral   4.02 ft"]]);
    }

    #[test]
    fn only_the_last_column_is_broken() {
        let mut table = Table::new(&[("step", Align::Right), ("why", Align::Left)]);
        table.row(vec!["12".into(), "the choke must be higher than that".into()]);
        let expected = [vec!["  step  why"], vec!["    12  the choke must be", "        higher than that"]];
        assert_eq!(table.blocks(30), expected);
    }

    #[test]
    fn a_text_is_broken_at_blanks_and_never_within_a_word() {
        assert_eq!(broken("one two  three", 7), ["one two", "three"]);
        assert_eq!(broken("overlong words", 4), ["overlong", "words"]);
        assert_eq!(broken("up to 5 ft high", 9), ["up to", "5 ft high"]);
        assert!(broken("", 4).is_empty());
    }
}
