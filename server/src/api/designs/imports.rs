//! `/v1/imports`

use crate::http::App;
use crate::http::body::Json;
use crate::http::caller::Bearer;
use crate::http::problem::Problem;
use crate::http::strict_json::invalid;
use crate::words::of_request;
use axum::extract::State;
use data_encoding::BASE64;
use matchmark_core::document::Finding;
use matchmark_import::{Answers, Import, Report, SourceFile};
use matchmark_service::FieldError;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use utoipa::ToSchema;

/// The most bytes a request may have.
pub const LIMIT: usize = 32 * 1024 * 1024;

/// Files of one frame, and what no file says.
#[derive(Deserialize, ToSchema)]
pub struct ImportRequest {
    /// The files: DXF, STEP, CSV or XLSX. Tables that refer to each other come together.
    #[schema(min_items = 1, max_items = 100)]
    files: Vec<ImportFile>,
    /// Answers to the questions of an earlier report.
    #[serde(default)]
    answers: Option<Answers>,
    /// An existing design document to compare with: it is brought up to the files, and keeps its names, notes, holes and steps.
    #[serde(default)]
    #[schema(value_type = Option<Object>)]
    over: Option<Value>,
}

/// One file.
#[derive(Deserialize, ToSchema)]
pub struct ImportFile {
    /// Its name with its ending.
    #[schema(min_length = 1, max_length = 200)]
    name: String,
    /// What it holds, in base64 (RFC 4648, section 4).
    #[schema(content_encoding = "base64")]
    base64: String,
}

/// What came of the files.
#[derive(Serialize, ToSchema)]
pub struct ImportedFrame {
    /// The design document; null when a question must be answered or a file was refused, as the report says.
    #[schema(value_type = Option<Object>)]
    design: Option<Value>,
    /// Questions with their defaults, and what was found in the files.
    report: Report,
    /// What is found in the design, as for a draft.
    findings: Vec<Finding>,
}

/// Read a frame from files
///
/// Takes drawings, models or tables, and keeps nothing. No file says enough: unit, axes, origin, which layer is which section, the radius
/// of sharp corners and the meaning of columns are questions of the report, most with a default that was taken. Only a missing unit,
/// section or bend radius stops the reading: then `design` is null, and the same files are sent again with `answers`. What was joined,
/// taken or left out is among the report's findings.
#[utoipa::path(post, path = "/v1/imports", operation_id = "readFrame", tag = "imports", request_body = ImportRequest,
    responses((status = 200, body = ImportedFrame)))]
pub async fn read(
    State(app): State<App>,
    _bearer: Bearer,
    request: Json<ImportRequest>,
) -> Result<axum::Json<ImportedFrame>, Problem> {
    let ImportRequest { files, answers, over } = request.value;
    if files.is_empty() || files.len() > MOST_FILES {
        let detail = of_request().bodies.files_count(MOST_FILES);
        return Err(invalid(FieldError { pointer: "/files".to_owned(), detail }));
    }
    let files = files.into_iter().enumerate().map(|(index, file)| decoded(index, file)).collect::<Result<_, _>>()?;
    let (Import { design, report }, findings) = app.engine().import(files, answers.unwrap_or_default(), over).await?;
    Ok(axum::Json(ImportedFrame { design, report, findings }))
}

const MOST_FILES: usize = 100;

/// Longest name of a file, in letters.
const MOST_NAME: usize = 200;

fn decoded(index: usize, file: ImportFile) -> Result<SourceFile, Problem> {
    if !(1..=MOST_NAME).contains(&file.name.chars().count()) {
        let detail = of_request().bodies.file_name(MOST_NAME);
        return Err(invalid(FieldError { pointer: format!("/files/{index}/name"), detail }));
    }
    let bytes = BASE64.decode(file.base64.as_bytes()).map_err(|error| {
        let detail = of_request().bodies.not_base64(error.position + 1);
        invalid(FieldError { pointer: format!("/files/{index}/base64"), detail })
    })?;
    Ok(SourceFile { name: file.name, bytes })
}
