//! What an [`crate::outcome::Report`] says: its [`words`], laid out as [`text`] for people and as [`json`] for machines.

pub mod json;
pub mod listing;
pub mod pole_sheet;
pub mod table;
pub mod text;
pub mod words;
