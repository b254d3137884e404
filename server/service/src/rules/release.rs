//! Whether something to read or to build from may be handed out to a caller now.

use crate::rules::states::{RevisionState, of_design};
use crate::{Principal, Role, ServiceError};
use matchmark_store::kits::{self, KitRow};
use matchmark_store::{Conn, holds, states};

/// A builder reads only the revision of their own kit.
pub(crate) async fn may_read(conn: &mut Conn, who: &Principal, design: &str, letter: &str) -> Result<(), ServiceError> {
    let Role::Builder { kit } = &who.role else {
        return Ok(());
    };
    match kits::find(conn, kit).await? {
        Some(kit) if kit.design == design && kit.revision == letter => Ok(()),
        _ => Err(ServiceError::Hidden),
    }
}

/// A builder builds only from the revision of their own kit, once the stop sheet of a recall is acknowledged, and not while the kit
/// is on hold.
pub(crate) async fn may_build_from(
    conn: &mut Conn,
    who: &Principal,
    design: &str,
    letter: &str,
) -> Result<(), ServiceError> {
    may_read(conn, who, design, letter).await?;
    if let Role::Builder { kit } = &who.role
        && let Some(kit) = kits::find(conn, kit).await?
    {
        must_be_open(conn, who, &kit, letter).await?;
    }
    Ok(())
}

/// Refuses to hand out anything of a revision to build a kit from before its stop sheets are acknowledged, and while a hold on it stands.
pub(crate) async fn must_be_open(
    conn: &mut Conn,
    who: &Principal,
    kit: &KitRow,
    letter: &str,
) -> Result<(), ServiceError> {
    must_not_stop(conn, who, &kit.serial, letter).await?;
    must_not_be_held(conn, kit).await
}

/// Files for machines and programs are given out of a revision as its sheets are, but of a recalled one to nobody.
pub(crate) async fn may_have_files(
    conn: &mut Conn,
    who: &Principal,
    design: &str,
    letter: &str,
) -> Result<(), ServiceError> {
    may_build_from(conn, who, design, letter).await?;
    must_not_be_recalled(conn, design, letter).await
}

/// Files of a kit are given out as its packs are, and as none is issued of a recalled revision, none of it.
pub(crate) async fn may_have_files_of_kit(conn: &mut Conn, who: &Principal, kit: &KitRow) -> Result<(), ServiceError> {
    must_be_open(conn, who, kit, &kit.revision).await?;
    must_not_be_recalled(conn, &kit.design, &kit.revision).await
}

async fn must_not_be_recalled(conn: &mut Conn, design: &str, letter: &str) -> Result<(), ServiceError> {
    match of_design(conn, design).await?.of(letter) {
        RevisionState::Recalled => Err(ServiceError::GivesNoFiles(letter.to_owned())),
        _ => Ok(()),
    }
}

/// Refuses to hand out anything to build from while a hold on the kit stands.
pub(crate) async fn must_not_be_held(conn: &mut Conn, kit: &KitRow) -> Result<(), ServiceError> {
    match holds::standing(conn, &kit.serial).await? {
        Some(hold) => Err(ServiceError::OnHold { kit: kit.serial.clone(), ask: hold.ask }),
        None => Ok(()),
    }
}

/// Refuses to hand out what belongs to a recalled revision before its stop sheet is acknowledged for the kit; to its builder anything,
/// since parts made to that revision may be in the frame.
pub(crate) async fn must_not_stop(
    conn: &mut Conn,
    who: &Principal,
    serial: &str,
    letter: &str,
) -> Result<(), ServiceError> {
    let is_builder = matches!(who.role, Role::Builder { .. });
    let rows = states::recalls_of_kit(conn, serial).await?;
    let open = rows.into_iter().find(|row| row.acknowledged_at.is_none() && (is_builder || row.letter == letter));
    match open {
        Some(open) => Err(ServiceError::StopSheetFirst { kit: serial.to_owned(), letter: open.letter }),
        None => Ok(()),
    }
}
