//! RON text → [`Node`]: structs, tuples, lists, maps, texts, numbers, words, comments.
//!
//! The first fault of form ends the reading, for what follows it cannot be told. Depth and size are limited, so that no
//! text overflows the stack or keeps the reader busy.

use super::fault::FaultKind;
use super::tree::{Field, Node, Place, Tree, number, shorten};

/// Bytes; a scene written by hand is a hundredth of this.
pub const LARGEST: usize = 1 << 20;
/// Brackets within brackets.
pub const DEEPEST: usize = 64;

type Result<T> = std::result::Result<T, (Place, FaultKind)>;

/// The one value that the text holds.
pub fn read_tree(text: &str) -> Result<Node> {
    if text.len() > LARGEST {
        let place = Place { line: 1, column: 1 };
        return Err((place, FaultKind::TooLarge { bytes: text.len(), limit: LARGEST }));
    }
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut reader = Reader { rest: text, place: Place { line: 1, column: 1 }, depth: 0 };
    reader.skip_space()?;
    while reader.rest.starts_with("#!") {
        reader.skip_extensions()?;
        reader.skip_space()?;
    }
    let node = reader.value()?;
    reader.skip_space()?;
    if reader.peek().is_some() {
        return Err(reader.expected("the end of the text"));
    }
    Ok(node)
}

struct Reader<'t> {
    rest: &'t str,
    place: Place,
    depth: usize,
}

impl<'t> Reader<'t> {
    fn peek(&self) -> Option<char> {
        self.rest.chars().next()
    }

    fn next(&mut self) -> Option<char> {
        let c = self.peek()?;
        self.rest = self.rest.get(c.len_utf8()..).unwrap_or("");
        if c == '\n' {
            self.place = Place { line: self.place.line.saturating_add(1), column: 1 };
        } else {
            self.place.column = self.place.column.saturating_add(1);
        }
        Some(c)
    }

    fn take(&mut self, c: char) -> bool {
        let there = self.peek() == Some(c);
        if there {
            self.next();
        }
        there
    }

    fn take_while(&mut self, mut wanted: impl FnMut(char) -> bool) -> &'t str {
        let start = self.rest;
        while self.peek().is_some_and(&mut wanted) {
            self.next();
        }
        start.get(..start.len() - self.rest.len()).unwrap_or("")
    }

    /// The fault that something else stands here.
    fn expected(&self, expected: &str) -> (Place, FaultKind) {
        let found = match self.peek() {
            None => "the end of the text".to_owned(),
            Some(c) if is_word(c) => {
                let word: String = self.rest.chars().take_while(|c| is_word(*c)).take(61).collect();
                format!("'{}'", shorten(&word))
            }
            Some('"') => "a text".to_owned(),
            Some(c) => format!("'{}'", shorten(&c.to_string())),
        };
        (self.place, FaultKind::Syntax { found, expected: expected.to_owned() })
    }

    fn need(&mut self, c: char, expected: &str) -> Result<()> {
        if self.take(c) { Ok(()) } else { Err(self.expected(expected)) }
    }

    /// White space, `// …` and nested `/* … */`.
    fn skip_space(&mut self) -> Result<()> {
        loop {
            self.take_while(char::is_whitespace);
            if self.rest.starts_with("//") {
                self.take_while(|c| c != '\n');
            } else if self.rest.starts_with("/*") {
                self.skip_block_comment()?;
            } else {
                return Ok(());
            }
        }
    }

    fn skip_block_comment(&mut self) -> Result<()> {
        let start = self.place;
        let mut open = 0_usize;
        loop {
            if self.rest.starts_with("/*") {
                open += 1;
                self.next();
            } else if self.rest.starts_with("*/") {
                open -= 1;
                self.next();
            }
            if self.next().is_none() {
                let found = "a comment that does not end".to_owned();
                return Err((start, FaultKind::Syntax { found, expected: "\"*/\" at its end".to_owned() }));
            }
            if open == 0 {
                return Ok(());
            }
        }
    }

    /// `#![enable(implicit_some, …)]`: what it enables is read anyway.
    fn skip_extensions(&mut self) -> Result<()> {
        for part in ["#", "!", "[", "enable", "("] {
            if !self.rest.starts_with(part) {
                return Err(self.expected("#![enable( … )]"));
            }
            for _ in part.chars() {
                self.next();
            }
            self.skip_space()?;
        }
        loop {
            if self.take_while(is_word).is_empty() {
                return Err(self.expected("the name of an extension"));
            }
            self.skip_space()?;
            let more = self.take(',');
            self.skip_space()?;
            if self.peek() == Some(')') || !more {
                break;
            }
        }
        self.need(')', "')'")?;
        self.skip_space()?;
        self.need(']', "']'")
    }

    fn value(&mut self) -> Result<Node> {
        if self.depth >= DEEPEST {
            return Err((self.place, FaultKind::TooDeep { limit: DEEPEST }));
        }
        self.depth += 1;
        let place = self.place;
        let tree = self.tree()?;
        self.depth -= 1;
        Ok(Node { place, tree })
    }

    fn tree(&mut self) -> Result<Tree> {
        match self.peek() {
            Some('(') => self.group(None),
            Some('[') => self.list(),
            Some('{') => self.map(),
            Some('"') => self.text().map(Tree::Text),
            Some('\'') => self.character(),
            Some('r') if self.raw_text_follows() => self.raw_text().map(Tree::Text),
            Some(c) if c.is_ascii_digit() || matches!(c, '+' | '-' | '.') => self.number(),
            Some(c) if is_word_start(c) => {
                let word = self.take_while(is_word).to_owned();
                match word.as_str() {
                    "true" => return Ok(Tree::Bool(true)),
                    "false" => return Ok(Tree::Bool(false)),
                    "inf" | "NaN" => return Ok(Tree::Number(word)),
                    _ => {}
                }
                self.skip_space()?;
                if self.peek() == Some('(') { self.group(Some(word)) } else { Ok(Tree::Name(word)) }
            }
            _ => Err(self.expected("a value")),
        }
    }

    /// What stands between round brackets: fields, or values.
    fn group(&mut self, name: Option<String>) -> Result<Tree> {
        self.need('(', "'('")?;
        self.skip_space()?;
        if self.field_follows()? {
            let mut fields = Vec::new();
            while !self.take(')') {
                let place = self.place;
                if !self.peek().is_some_and(is_word_start) {
                    return Err(self.expected("the name of a field, or ')'"));
                }
                let field = self.take_while(is_word).to_owned();
                self.skip_space()?;
                self.need(':', "':' after the name of a field")?;
                self.skip_space()?;
                let value = self.value()?;
                fields.push(Field { place, name: field, value });
                self.comma(')')?;
            }
            return Ok(Tree::Struct { name, fields });
        }
        let items = self.items(')')?;
        Ok(Tree::Tuple { name, items })
    }

    /// Whether a name and a colon stand here.
    fn field_follows(&mut self) -> Result<bool> {
        if !self.peek().is_some_and(is_word_start) {
            return Ok(false);
        }
        let (rest, place) = (self.rest, self.place);
        self.take_while(is_word);
        let spaced = self.skip_space();
        let colon = self.peek() == Some(':');
        (self.rest, self.place) = (rest, place);
        spaced.map(|()| colon)
    }

    fn list(&mut self) -> Result<Tree> {
        self.need('[', "'['")?;
        self.skip_space()?;
        self.items(']').map(Tree::List)
    }

    fn items(&mut self, close: char) -> Result<Vec<Node>> {
        let mut items = Vec::new();
        while !self.take(close) {
            items.push(self.value()?);
            self.comma(close)?;
        }
        Ok(items)
    }

    fn map(&mut self) -> Result<Tree> {
        self.need('{', "'{'")?;
        self.skip_space()?;
        let mut pairs = Vec::new();
        while !self.take('}') {
            let key = self.value()?;
            self.skip_space()?;
            self.need(':', "':' after a key")?;
            self.skip_space()?;
            pairs.push((key, self.value()?));
            self.comma('}')?;
        }
        Ok(Tree::Map(pairs))
    }

    /// A comma, or the closing bracket, which is left standing.
    fn comma(&mut self, close: char) -> Result<()> {
        self.skip_space()?;
        if self.peek() == Some(close) {
            return Ok(());
        }
        self.need(',', &format!("',' or '{close}'"))?;
        self.skip_space()
    }

    fn number(&mut self) -> Result<Tree> {
        let place = self.place;
        let mut before = ' ';
        let mut first = true;
        let mut radix = false;
        let text = self.take_while(|c| {
            let exponent = !radix && matches!(before, 'e' | 'E') && matches!(c, '+' | '-');
            let wanted = is_word(c) || c == '.' || exponent || (first && matches!(c, '+' | '-'));
            radix |= before == '0' && matches!(c, 'x' | 'o' | 'b');
            (before, first) = (c, false);
            wanted
        });
        match number(text) {
            Some(_) => Ok(Tree::Number(text.to_owned())),
            None => {
                let found = format!("'{}'", shorten(text));
                Err((place, FaultKind::Syntax { found, expected: "a number".to_owned() }))
            }
        }
    }

    fn text(&mut self) -> Result<String> {
        let start = self.place;
        self.need('"', "'\"'")?;
        let mut text = String::new();
        loop {
            match self.peek() {
                None => return Err(unended_text(start)),
                Some('"') => {
                    self.next();
                    return Ok(text);
                }
                Some('\\') => text.push(self.escape()?),
                Some(c) => {
                    self.next();
                    text.push(c);
                }
            }
        }
    }

    fn escape(&mut self) -> Result<char> {
        let place = self.place;
        self.need('\\', "'\\'")?;
        let kind = self.next();
        let plain = match kind {
            Some('n') => Some('\n'),
            Some('r') => Some('\r'),
            Some('t') => Some('\t'),
            Some('0') => Some('\0'),
            Some(c @ ('"' | '\\' | '\'')) => Some(c),
            Some('x') => {
                let digits: String = self.rest.chars().take(2).take_while(char::is_ascii_hexdigit).collect();
                for _ in digits.chars() {
                    self.next();
                }
                if digits.len() == 2 { u8::from_str_radix(&digits, 16).ok().map(char::from) } else { None }
            }
            Some('u') if self.take('{') => {
                let digits = self.take_while(|c| c.is_ascii_hexdigit());
                let c = if digits.len() > 6 { None } else { u32::from_str_radix(digits, 16).ok() };
                c.and_then(char::from_u32).filter(|_| self.take('}'))
            }
            _ => None,
        };
        plain.ok_or_else(|| {
            let found = match kind {
                Some(c) => format!("'\\{}'", shorten(&c.to_string())),
                None => "'\\' at the end of the text".to_owned(),
            };
            let expected = "one of \\\" \\\\ \\n \\t \\r \\' \\0 \\x41 \\u{e9}".to_owned();
            (place, FaultKind::Syntax { found, expected })
        })
    }

    fn raw_text_follows(&self) -> bool {
        self.rest.strip_prefix('r').is_some_and(|after| after.trim_start_matches('#').starts_with('"'))
    }

    fn raw_text(&mut self) -> Result<String> {
        let start = self.place;
        self.next();
        let marks = self.take_while(|c| c == '#');
        self.need('"', "'\"'")?;
        let close = format!("\"{marks}");
        let Some(end) = self.rest.find(&close) else {
            return Err(unended_text(start));
        };
        let text = self.rest.get(..end).unwrap_or("").to_owned();
        for _ in 0..text.chars().count() + close.chars().count() {
            self.next();
        }
        Ok(text)
    }

    fn character(&mut self) -> Result<Tree> {
        self.need('\'', "'")?;
        let c = match self.peek() {
            Some('\\') => self.escape()?,
            Some(c) if c != '\'' => {
                self.next();
                c
            }
            _ => return Err(self.expected("a character")),
        };
        self.need('\'', "' after one character")?;
        Ok(Tree::Char(c))
    }
}

fn unended_text(start: Place) -> (Place, FaultKind) {
    let found = "a text that does not end".to_owned();
    (start, FaultKind::Syntax { found, expected: "'\"' at its end".to_owned() })
}

fn is_word_start(c: char) -> bool {
    c.is_alphabetic() || c == '_'
}

fn is_word(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tree(text: &str) -> Tree {
        read_tree(text).unwrap().tree
    }

    #[track_caller]
    fn fault(text: &str, line: u32, column: u32, found: &str, expected: &str) {
        let (place, kind) = read_tree(text).unwrap_err();
        let expected = FaultKind::Syntax { found: found.to_owned(), expected: expected.to_owned() };
        assert_eq!((place, kind), (Place { line, column }, expected));
    }

    #[test]
    fn every_value_knows_where_it_stands() {
        let Tree::Struct { fields, .. } = tree("(\n  // the job\n  name: \"Alder\",\n  at: (1, -2.5),\n)") else {
            panic!()
        };
        assert_eq!(fields[0].place, Place { line: 3, column: 3 });
        assert_eq!(fields[0].value.place, Place { line: 3, column: 9 });
        let Tree::Tuple { items, .. } = &fields[1].value.tree else { panic!() };
        assert_eq!(items[1], Node { place: Place { line: 4, column: 11 }, tree: Tree::Number("-2.5".to_owned()) });
    }

    #[test]
    fn texts_keep_their_escapes_and_raw_texts_have_none() {
        assert_eq!(tree(r#""a\"\\\n\t\x41\u{e9}""#), Tree::Text("a\"\\\n\tA\u{e9}".to_owned()));
        assert_eq!(tree("r#\"a\\n\"b\"#"), Tree::Text("a\\n\"b".to_owned()));
        assert_eq!(tree("'\\''"), Tree::Char('\''));
    }

    #[test]
    fn comments_nest_and_extensions_are_passed_over() {
        assert_eq!(tree("#![enable(implicit_some, unwrap_newtypes,)]\n/* a /* b */ c */ [ ] // d"), Tree::List(vec![]));
    }

    #[test]
    fn words_numbers_and_named_groups_are_told_apart() {
        assert_eq!(tree("upend"), Tree::Name("upend".to_owned()));
        assert_eq!(tree("()"), Tree::Tuple { name: None, items: vec![] });
        assert_eq!(tree("NaN"), Tree::Number("NaN".to_owned()));
        for text in ["1", "-1", "+1.5e-3", "0xFF", "1_000", ".5", "1.", "inf", "-inf", "0x1e"] {
            assert_eq!(tree(text), Tree::Number(text.to_owned()), "{text}");
        }
        let Tree::Struct { name, fields } = tree("wire(name: \"A\")") else { panic!() };
        assert_eq!((name.as_deref(), fields.len()), (Some("wire"), 1));
    }

    #[test]
    fn the_first_fault_of_form_is_named_with_its_place() {
        fault("", 1, 1, "the end of the text", "a value");
        fault("(a: 1", 1, 6, "the end of the text", "',' or ')'");
        fault("(a: 1\n b: 2)", 2, 2, "'b'", "',' or ')'");
        fault("(a: 1, 2)", 1, 8, "'2'", "the name of a field, or ')'");
        fault("[1, ; 2]", 1, 5, "';'", "a value");
        fault("{1 2}", 1, 4, "'2'", "':' after a key");
        fault("(a: \"x)", 1, 5, "a text that does not end", "'\"' at its end");
        fault("\"a\\q\"", 1, 3, "'\\q'", "one of \\\" \\\\ \\n \\t \\r \\' \\0 \\x41 \\u{e9}");
        fault("/* x", 1, 1, "a comment that does not end", "\"*/\" at its end");
        fault("12abc", 1, 1, "'12abc'", "a number");
        fault("1 2", 1, 3, "'2'", "the end of the text");
    }

    #[test]
    fn depth_and_size_have_limits() {
        let deep = "[".repeat(100_000);
        assert!(matches!(read_tree(&deep), Err((_, FaultKind::TooDeep { limit: DEEPEST }))));
        let large = " ".repeat(LARGEST + 1);
        assert!(matches!(read_tree(&large), Err((_, FaultKind::TooLarge { limit: LARGEST, .. }))));
    }
}
