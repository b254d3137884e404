//! Pages that belong to no pack: stop sheets printed alone, and the pages of a notice. What their codes say, and whether they are still
//! right.

use crate::rules::states::{self, RevisionState};
use crate::{PageState, ServiceError};
use matchmark_core::seal::{PageKind, PageStatement};
use matchmark_store::{self, Conn, measurements, notices};

/// What is said of such a page.
pub(crate) type Verdict = (PageState, String);

/// Whether a page that belongs to no pack is still right; `None` for a page of a pack.
pub(crate) async fn loose_page(read: &mut Conn, page: &PageStatement) -> Result<Option<Verdict>, ServiceError> {
    match page.kind {
        PageKind::Pack => Ok(None),
        PageKind::StopSheet => stop_sheet(read, page).await.map(Some),
        PageKind::Notice => notice(read, page).await.map(Some),
    }
}

fn unknown(what: &str) -> Verdict {
    let words = format!("The signature is ours, but {what}. Do not cut from this page; ask the supplier.");
    (PageState::Unknown, words)
}

async fn stop_sheet(read: &mut Conn, page: &PageStatement) -> Result<Verdict, ServiceError> {
    let recalls = matchmark_store::states::recalls_of_kit(read, &page.kit).await?;
    let found = recalls.into_iter().find(|recall| recall.design == page.design && recall.letter == page.revision);
    let Some(recall) = found else { return ended_recall(read, page).await };
    let (letter, kit) = (&page.revision, &page.kit);
    let day = recall.at.get(..10).unwrap_or_default();
    let words = if page.date.as_str() < day {
        format!(
            "Recalled: stop. Revision {letter} was recalled again on {day}, after this stop sheet of kit {kit} was drawn. Read the new one before you cut, weld or use anything."
        )
    } else {
        format!(
            "Recalled: stop. This is page {} of {} of the stop sheet of revision {letter} for kit {kit}. Read it to the end before you cut, weld or use anything.",
            page.page, page.pages
        )
    };
    Ok((PageState::Recalled, words))
}

/// What is said of the stop sheet of a recall that does not stand.
async fn ended_recall(read: &mut Conn, page: &PageStatement) -> Result<Verdict, ServiceError> {
    let said = matchmark_store::states::list(read, &page.design).await?;
    let mut after = said.iter().filter(|row| row.letter == page.revision).skip_while(|row| row.state != "recalled");
    let is_of_kit = matchmark_store::kits::find(read, &page.kit).await?.is_some_and(|kit| kit.design == page.design);
    let (Some(_), Some(end)) = (after.next().filter(|_| is_of_kit), after.last()) else {
        return Ok(unknown("there is no record of such a recall of this kit"));
    };
    let words = format!(
        "Ended: revision {} was recalled when this stop sheet of kit {} was drawn, and was put in force again on {}. The supplier says why: \"{}\" Read the page of your kit before you go on.",
        page.revision,
        page.kit,
        end.at.get(..10).unwrap_or_default(),
        end.reason
    );
    Ok((PageState::Superseded, words))
}

async fn notice(read: &mut Conn, page: &PageStatement) -> Result<Verdict, ServiceError> {
    let of_kit = notices::of_kit(read, &page.kit).await?;
    let is_this = |row: &notices::NoticeKitRow| {
        row.design == page.design && row.number.to_string() == page.notice && row.to_revision == page.revision
    };
    let Some(row) = of_kit.into_iter().find(is_this) else {
        return Ok(unknown("there is no record of such a notice to this kit"));
    };
    let (notice, letter, kit) = (&page.notice, &page.revision, &page.kit);
    if states::of_design(read, &page.design).await?.of(letter) == RevisionState::Recalled {
        let words = format!(
            "Recalled: stop. Revision {letter} was recalled by the supplier. Read the stop sheet for kit {kit} before you cut, weld or use anything."
        );
        return Ok((PageState::Recalled, words));
    }
    if let Some(done) = &row.done_at {
        let day = done.get(..10).unwrap_or_default();
        let words = format!(
            "Done: the work of notice {notice} was reported as done for kit {kit} on {day}. There is nothing left to do on this page. Keep it: the parts that it names are now made as it shows."
        );
        return Ok((PageState::Superseded, words));
    }
    let measured = measurements::list(read, kit).await?;
    if measured.iter().any(|value| value.at.get(..10).unwrap_or_default() > page.date.as_str()) {
        let words = format!(
            "Superseded: something of kit {kit} was measured after this page was drawn. Fetch the pages of notice {notice} again, and cross this page out."
        );
        return Ok((PageState::Superseded, words));
    }
    let words = format!(
        "Current: page {} of {} of the pages of notice {notice} for kit {kit}, to revision {letter}, {}. Use them with the kit's pack, for the parts that they name. If anything was measured later that day, fetch them again.",
        page.page, page.pages, page.date
    );
    Ok((PageState::Current, words))
}
