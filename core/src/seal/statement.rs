//! What a page says of itself, as bytes.
//!
//! Form 1 signed the drawing of a page alone and knew pages of packs only; it is read for ever and not written any more. Form 2
//! signs all that a viewer shows or does with the page, and says what the page belongs to.

use super::SealError;
use serde::Serialize;
use std::fmt::Display;
use time::Date;
use time::format_description::BorrowedFormatItem;
use time::macros::{date, format_description};

/// The form that is written: first byte of a statement.
const FORM: u8 = 2;

/// Bytes of the hash that a statement carries.
pub const HASH_BYTES: usize = 16;

/// Stands between the numbers of a set of pages of a notice.
const TOLD: char = '/';

/// Number of a set of pages of a notice, as its statements have it.
pub(crate) fn notice_number(notice: impl Display, beside: impl Display, told: impl Display) -> String {
    format!("{notice}{TOLD}{beside}{TOLD}{told}")
}

/// Longest text in a statement, bytes.
const LONGEST: usize = 64;

/// What a page belongs to.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "kebab-case")]
pub enum PageKind {
    /// A pack.
    #[default]
    Pack,
    /// A stop sheet that is printed alone.
    StopSheet,
    /// The pages to do the work of a notice from.
    Notice,
}

/// What a page says of itself.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct PageStatement {
    /// Form of the seal: 1 signs the page's drawing alone, 2 all that a viewer shows.
    pub form: u8,
    /// What the page belongs to.
    pub kind: PageKind,
    /// Id of the design.
    pub design: String,
    /// Letter of the revision: of a stop sheet the recalled one, of a notice the one with its change; empty for a draft.
    pub revision: String,
    /// Serial of the kit; empty when the pack is for none.
    pub kit: String,
    /// Number of the pack; empty when the page belongs to none that was issued.
    pub pack: String,
    /// Number of the notice; empty when the page belongs to none.
    pub notice: String,
    /// Of the pages of a notice: number of the kit's pack that they go with, 0 where it had none. Null for other pages, and where older
    /// ones do not say.
    pub beside: Option<u32>,
    /// Of the pages of a notice: how many times a value of the kit had been told or taken back when it first had the measured values
    /// that they are drawn with. Null for other pages, and where older ones do not say.
    pub told: Option<u32>,
    /// Number of the page, from 1.
    pub page: u16,
    /// How many pages there are.
    pub pages: u16,
    /// Date of issue, `YYYY-MM-DD`.
    pub date: String,
    /// First 16 bytes of the SHA-256 of what was signed of the page, lower-case hex.
    pub content: String,
}

impl PageStatement {
    /// A statement of the form that is written, of a page whose hash is still to come. `number` is that of the pack, or of a
    /// notice with the pack that its pages go with and how many values were told: `3/1/12`.
    #[must_use]
    pub fn new(kind: PageKind, number: String) -> Self {
        let (pack, notice, set) = match kind {
            PageKind::Pack => (number, String::new(), None),
            PageKind::StopSheet => (String::new(), String::new(), None),
            PageKind::Notice => match number.splitn(3, TOLD).collect::<Vec<_>>()[..] {
                [notice, beside, told] => {
                    (String::new(), notice.to_owned(), beside.parse().ok().zip(told.parse().ok()))
                }
                _ => (String::new(), number, None),
            },
        };
        let (beside, told) = set.unzip();
        Self {
            form: FORM,
            kind,
            design: String::new(),
            revision: String::new(),
            kit: String::new(),
            pack,
            notice,
            beside,
            told,
            page: 0,
            pages: 0,
            date: String::new(),
            content: String::new(),
        }
    }

    /// Whether two pages say that they were made together.
    #[must_use]
    pub fn goes_with(&self, other: &Self) -> bool {
        let together = |one: &Self| Self { page: 0, content: String::new(), ..one.clone() };
        together(self) == together(other)
    }

    pub(super) fn to_bytes(&self) -> Result<Vec<u8>, SealError> {
        let (kind, number) = match self.kind {
            PageKind::Pack => (0, self.pack.clone()),
            PageKind::StopSheet => (1, String::new()),
            PageKind::Notice => (
                2,
                match self.beside.zip(self.told) {
                    Some((beside, told)) => notice_number(&self.notice, beside, told),
                    None => self.notice.clone(),
                },
            ),
        };
        let mut bytes = vec![FORM, kind];
        bytes.extend_from_slice(&days_of(&self.date).ok_or(SealError::NotReadable)?.to_be_bytes());
        bytes.extend_from_slice(&self.page.to_be_bytes());
        bytes.extend_from_slice(&self.pages.to_be_bytes());
        let hash: [u8; HASH_BYTES] = super::signing::bytes_of_hex(&self.content).map_err(|_| SealError::NotReadable)?;
        bytes.extend_from_slice(&hash);
        for text in [&self.design, &self.revision, &self.kit, &number] {
            let length = u8::try_from(text.len()).ok().filter(|length| usize::from(*length) <= LONGEST);
            bytes.push(length.ok_or_else(|| SealError::TooLong(text.to_owned()))?);
            bytes.extend_from_slice(text.as_bytes());
        }
        Ok(bytes)
    }

    pub(super) fn of_bytes(bytes: &[u8]) -> Result<Self, SealError> {
        let mut rest = bytes;
        let [form] = take(&mut rest)?;
        let kind = match form {
            1 => PageKind::Pack,
            FORM => match take(&mut rest)? {
                [0] => PageKind::Pack,
                [1] => PageKind::StopSheet,
                [2] => PageKind::Notice,
                _ => return Err(SealError::NotReadable),
            },
            _ => return Err(SealError::Form(form)),
        };
        let date = date_of(u16::from_be_bytes(take(&mut rest)?));
        let page = u16::from_be_bytes(take(&mut rest)?);
        let pages = u16::from_be_bytes(take(&mut rest)?);
        let content = super::signing::hex(&take::<HASH_BYTES>(&mut rest)?);
        let mut text = || {
            let [length] = take(&mut rest)?;
            let (head, tail) = rest.split_at_checked(usize::from(length)).ok_or(SealError::NotReadable)?;
            rest = tail;
            String::from_utf8(head.to_vec()).map_err(|_| SealError::NotReadable)
        };
        let (design, revision, kit, number) = (text()?, text()?, text()?, text()?);
        if !rest.is_empty() {
            return Err(SealError::NotReadable);
        }
        Ok(Self { form, design, revision, kit, page, pages, date, content, ..Self::new(kind, number) })
    }
}

fn take<const COUNT: usize>(rest: &mut &[u8]) -> Result<[u8; COUNT], SealError> {
    let (head, tail) = rest.split_first_chunk().ok_or(SealError::NotReadable)?;
    *rest = tail;
    Ok(*head)
}

/// The day that dates of statements are counted from.
const FIRST: Date = date!(2000 - 01 - 01);

/// How a date is written.
const WRITTEN: &[BorrowedFormatItem<'_>] = format_description!("[year]-[month]-[day]");

/// Days from 2000-01-01 to a date of the Gregorian calendar.
fn days_of(date: &str) -> Option<u16> {
    let date = Date::parse(date, WRITTEN).ok()?;
    u16::try_from(date.to_julian_day() - FIRST.to_julian_day()).ok()
}

fn date_of(days: u16) -> String {
    let date = Date::from_julian_day(FIRST.to_julian_day() + i32::from(days));
    date.ok().and_then(|date| date.format(WRITTEN).ok()).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pages_of_a_notice_say_how_many_values_were_told_and_older_ones_nothing_of_it() {
        for (number, notice, told) in [("3/1/12", "3", Some(12)), ("3/0/0", "3", Some(0)), ("3", "3", None)] {
            let page = PageStatement {
                date: "2026-03-01".to_owned(),
                content: "00".repeat(HASH_BYTES),
                ..PageStatement::new(PageKind::Notice, number.to_owned())
            };
            assert_eq!((page.notice.as_str(), page.told), (notice, told));
            let read = PageStatement::of_bytes(&page.to_bytes().expect("writes")).expect("reads");
            assert_eq!(read, page);
        }
    }

    #[test]
    fn dates_are_those_of_the_calendar() {
        // Counted on a calendar: 2000 was a leap year, 2100 will be none.
        for (date, days) in [("2000-01-01", 0), ("2000-03-01", 60), ("2001-01-01", 366), ("2100-03-01", 36_584)] {
            assert_eq!(days_of(date), Some(days), "{date}");
            assert_eq!(date_of(days), date);
        }
        for days in (0..=u16::MAX).step_by(7) {
            assert_eq!(days_of(&date_of(days)), Some(days));
        }
        assert_eq!(days_of("1999-12-31"), None);
    }
}
