//! Plain text tables with aligned columns.

/// Which side the text of a column keeps to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    Left,
    Right,
}

/// Rows of text under a heading, each column as wide as its widest cell.
#[derive(Clone, Debug, Default)]
pub struct Table {
    columns: Vec<(String, Align)>,
    rows: Vec<Vec<String>>,
}

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

    /// The table's lines, heading first, without trailing blanks, each indented by two.
    pub fn lines(&self) -> Vec<String> {
        let width = |i: usize| {
            let head = self.columns.get(i).map_or(0, |c| c.0.chars().count());
            self.rows.iter().filter_map(|r| r.get(i)).map(|c| c.chars().count()).fold(head, usize::max)
        };
        let widths: Vec<usize> = (0..self.columns.len()).map(width).collect();
        let heading: Vec<String> = self.columns.iter().map(|c| c.0.clone()).collect();
        std::iter::once(&heading).chain(&self.rows).map(|cells| self.line(cells, &widths)).collect()
    }

    fn line(&self, cells: &[String], widths: &[usize]) -> String {
        let mut line = String::from(" ");
        for ((cell, width), (_, align)) in cells.iter().zip(widths).zip(&self.columns) {
            let gap = " ".repeat(width.saturating_sub(cell.chars().count()));
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_line_up_on_the_right_and_words_on_the_left() {
        let mut table = Table::new(&[("wire", Align::Left), ("gap", Align::Right)]);
        table.row(vec!["A".into(), "12.31 ft".into()]);
        table.row(vec!["neutral".into(), "4.02 ft".into()]);
        assert_eq!(table.lines(), ["  wire          gap", "  A        12.31 ft", "  neutral   4.02 ft"]);
    }
}
