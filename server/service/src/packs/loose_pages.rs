//! Pages that belong to no pack: stop sheets printed alone, and the pages of a notice. What their codes say, and whether they are still
//! right.

use crate::ServiceError;
use crate::packs::page_facts::{LoosePage, Unknown};
use crate::rules::holder_news::{day, is_remeasured};
use crate::rules::measured_set::measured_set;
use crate::rules::standing::Standings;
use matchmark_core::seal::{PageKind, PageStatement};
use matchmark_store::measurements;
use matchmark_store::{self, Conn, notices};

/// What holds of a page that belongs to no pack; `None` for a page of a pack.
pub(crate) async fn loose_page(read: &mut Conn, page: &PageStatement) -> Result<Option<LoosePage>, ServiceError> {
    match page.kind {
        PageKind::Pack => Ok(None),
        PageKind::StopSheet => stop_sheet(read, page).await.map(Some),
        PageKind::Notice => notice(read, page).await.map(Some),
    }
}

async fn stop_sheet(read: &mut Conn, page: &PageStatement) -> Result<LoosePage, ServiceError> {
    let recalls = matchmark_store::states::recalls_of_kit(read, &page.kit).await?;
    let found = recalls.into_iter().find(|recall| recall.design == page.design && recall.letter == page.revision);
    let Some(recall) = found else { return ended_recall(read, page).await };
    let (letter, serial) = (page.revision.clone(), page.kit.clone());
    let day = day(&recall.at);
    Ok(if page.date < day {
        LoosePage::RecalledAgain { serial, letter, day }
    } else {
        LoosePage::StopSheet { serial, letter, page: page.page, pages: page.pages }
    })
}

/// What holds of the stop sheet of a recall that does not stand.
async fn ended_recall(read: &mut Conn, page: &PageStatement) -> Result<LoosePage, ServiceError> {
    let said = matchmark_store::states::list(read, &page.design).await?;
    let mut after = said.iter().filter(|row| row.letter == page.revision).skip_while(|row| row.state != "recalled");
    let is_of_kit = matchmark_store::kits::find(read, &page.kit).await?.is_some_and(|kit| kit.design == page.design);
    let (Some(_), Some(end)) = (after.next().filter(|_| is_of_kit), after.last()) else {
        return Ok(LoosePage::Unknown(Unknown::NoRecall));
    };
    Ok(LoosePage::RecallEnded {
        serial: page.kit.clone(),
        letter: page.revision.clone(),
        day: day(&end.at),
        reason: end.reason.clone(),
    })
}

async fn notice(read: &mut Conn, page: &PageStatement) -> Result<LoosePage, ServiceError> {
    let of_kit = notices::of_kit(read, &page.kit).await?;
    let is_this = |row: &notices::NoticeKitRow| {
        row.design == page.design && row.number.to_string() == page.notice && row.to_revision == page.revision
    };
    let Some(row) = of_kit.into_iter().find(is_this) else {
        return Ok(LoosePage::Unknown(Unknown::NoNotice));
    };
    let (notice, letter, serial) = (page.notice.clone(), page.revision.clone(), page.kit.clone());
    let Some(kit) = matchmark_store::kits::find(read, &page.kit).await? else {
        return Ok(LoosePage::Unknown(Unknown::NoNotice));
    };
    let revision = kit.revision.clone();
    let standings = Standings::read(read, kit).await?;
    if standings.is_recalled(&letter) {
        return Ok(LoosePage::NoticeStopped { serial, notice, letter });
    }
    if let Some((state, facts)) = standings.stopped() {
        return Ok(LoosePage::Stopped { state, facts });
    }
    let told = measurements::list(read, &serial).await?;
    let now = measured_set(&told);
    let set = page.told.and_then(|told| usize::try_from(told).ok());
    if let Some(done) = &row.done_at {
        let day = day(done);
        return Ok(match set {
            Some(set) if set == now && is_remeasured(&told, &row) => LoosePage::Compare { serial, notice, day },
            Some(set) if set == now => LoosePage::Done { serial, notice, day },
            _ => LoosePage::DoneThenMeasured { serial, notice, day },
        });
    }
    let is_as_measured = match set {
        Some(set) => set == now,
        None => told.iter().all(|value| day(&value.at) < page.date),
    };
    if !is_as_measured {
        return Ok(LoosePage::MeasuredSince { serial, notice });
    }
    let last = standings.packs().filter(|pack| pack.revision == row.revision).last();
    if page.beside.is_some_and(|beside| i64::from(beside) != last.map_or(0, |pack| pack.number)) {
        return Ok(LoosePage::PackSince { serial, notice });
    }
    let day = page.date.clone();
    Ok(if revision == row.revision {
        LoosePage::Current { serial, notice, letter, page: page.page, pages: page.pages, day }
    } else {
        LoosePage::KitMoved { serial, notice, revision }
    })
}
