//! A day of the calendar. There is no clock here: days are only held against one another.

use std::fmt;

/// A day, written as `2026-03-04`: year, month, day of the month.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Date {
    year: u16,
    month: u8,
    day: u8,
}

/// The years that a job or its papers may carry. A year with a slip in it is outside.
const YEARS: std::ops::RangeInclusive<u16> = 1990..=2099;

impl Date {
    /// The day that a text names; `None` where there is no such day.
    pub fn parse(text: &str) -> Option<Self> {
        let parts: Vec<&str> = text.trim().split('-').collect();
        let [year, month, day] = parts.as_slice() else { return None };
        let is_number = |part: &str, letters: usize| part.len() == letters && part.bytes().all(|b| b.is_ascii_digit());
        if !is_number(year, 4) || !is_number(month, 2) || !is_number(day, 2) {
            return None;
        }
        let date = Self { year: year.parse().ok()?, month: month.parse().ok()?, day: day.parse().ok()? };
        (YEARS.contains(&date.year) && (1..=date.days_of_month()).contains(&date.day)).then_some(date)
    }

    /// 0 for a month that does not exist.
    fn days_of_month(self) -> u8 {
        let leap = self.year.is_multiple_of(4) && (!self.year.is_multiple_of(100) || self.year.is_multiple_of(400));
        match self.month {
            1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
            4 | 6 | 9 | 11 => 30,
            2 if leap => 29,
            2 => 28,
            _ => 0,
        }
    }

    /// Days from the first of January of the year 0, by the Gregorian calendar.
    fn number(self) -> i32 {
        // Years begin in March, so that the day of a leap year comes last.
        let (year, month) = match self.month {
            1 | 2 => (i32::from(self.year) - 1, i32::from(self.month) + 9),
            _ => (i32::from(self.year), i32::from(self.month) - 3),
        };
        365 * year + year / 4 - year / 100 + year / 400 + (153 * month + 2) / 5 + i32::from(self.day)
    }

    /// How many days later this is than `other`; negative when it is earlier.
    pub fn days_after(self, other: Self) -> i32 {
        self.number() - other.number()
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn date(text: &str) -> Date {
        Date::parse(text).unwrap()
    }

    #[test]
    fn days_that_do_not_exist_are_refused() {
        for bad in [
            "",
            "2026-02-30",
            "2025-02-29",
            "2100-02-01",
            "2026-13-01",
            "2026-00-10",
            "2026-04-31",
            "2026-04-00",
            "04.03.2026",
            "3/4/2026",
            "2026-3-4",
            "tomorrow",
            "0206-03-04",
            "2026-03-04-05",
            "+026-03-04",
        ] {
            assert_eq!(Date::parse(bad), None, "{bad}");
        }
        assert_eq!(date(" 2024-02-29 ").to_string(), "2024-02-29");
    }

    #[test]
    fn days_are_counted_over_months_and_leap_years() {
        assert_eq!(date("2026-03-01").days_after(date("2026-02-28")), 1);
        assert_eq!(date("2024-03-01").days_after(date("2024-02-28")), 2);
        assert_eq!(date("2027-01-01").days_after(date("2026-01-01")), 365);
        assert_eq!(date("2025-01-01").days_after(date("2024-01-01")), 366);
        assert_eq!(date("2026-01-01").days_after(date("2026-03-01")), -59);
        // source: 2000-01-01 to 2026-11-28 by the Julian day numbers 2451545 and 2461373 (noon); computed
        assert_eq!(date("2026-11-28").days_after(date("2000-01-01")), 2_461_373 - 2_451_545);
    }

    #[test]
    fn the_order_is_that_of_the_calendar() {
        assert!(date("2026-03-04") < date("2026-04-01") && date("2025-12-31") < date("2026-01-01"));
    }
}
