//! What fails below a use case, as a refusal.

use super::{FieldError, ServiceError};
use crate::words::of_problems;
use matchmark_core::Stopped;
use matchmark_core::joint::JointError;
use matchmark_core::pack::RenderError;
use matchmark_core::solid::SolidError;
use matchmark_core::stock::StockError;
use matchmark_export::ExportError;
use matchmark_store::{DiskFault, StoreError};

impl From<StoreError> for ServiceError {
    fn from(error: StoreError) -> Self {
        match error {
            StoreError::Busy(cause) => {
                tracing::warn!(%cause, "a request gave up waiting for the database");
                Self::Busy
            }
            StoreError::DatabaseAway(cause) => {
                tracing::error!(%cause, "the database cannot be reached");
                Self::DatabaseAway
            }
            StoreError::ObjectsAway(cause) => {
                tracing::error!(%cause, "the store of issued packs cannot be reached");
                Self::PacksAway
            }
            StoreError::ObjectsClosed(cause) => {
                tracing::error!(%cause, "the store of issued packs refuses access: check s3-bucket, s3-key-id and s3-secret");
                Self::PacksAway
            }
            StoreError::NulInText => Self::Invalid(vec![FieldError {
                pointer: String::new(),
                detail: of_problems().fields.nul().to_owned(),
            }]),
            other => {
                let fault = other.disk_fault();
                if let Some(fault) = fault {
                    tracing::error!(error = %other, ?fault, "the disk failed");
                }
                match fault {
                    Some(DiskFault::Full) => Self::NoRoom,
                    Some(DiskFault::Broken) => Self::DiskFailed,
                    Some(DiskFault::NotSynced) => Self::NotSynced,
                    None => Self::Store(other),
                }
            }
        }
    }
}

/// What was told to stop has nobody who looks at why.
impl From<Stopped> for ServiceError {
    fn from(_: Stopped) -> Self {
        Self::CutOff
    }
}

impl From<SolidError> for ServiceError {
    fn from(error: SolidError) -> Self {
        Self::NotDrawn { code: error.code(), message: error.to_string() }
    }
}

impl From<RenderError> for ServiceError {
    fn from(error: RenderError) -> Self {
        Self::NotDrawn { code: error.code(), message: error.to_string() }
    }
}

impl From<ExportError> for ServiceError {
    fn from(error: ExportError) -> Self {
        match error {
            ExportError::UnknownFile(name) => Self::UnknownFile(name),
            ExportError::Stopped => Self::CutOff,
            other => Self::NotDrawn { code: other.code(), message: other.to_string() },
        }
    }
}

impl From<JointError> for ServiceError {
    fn from(error: JointError) -> Self {
        Self::JointRefused { code: error.code(), pointer: error.pointer().to_owned(), message: error.to_string() }
    }
}

impl From<StockError> for ServiceError {
    fn from(error: StockError) -> Self {
        Self::StockRefused { code: error.code(), pointer: error.pointer().to_owned(), message: error.to_string() }
    }
}
