//! The archive of all files read back by another reader.

use crate::readers::python;
use crate::written::DEMO;
use matchmark_core::Stop;
use matchmark_export::{files, write_bundle};
use std::collections::BTreeMap;
use std::io::Write;

#[test]
fn the_archive_holds_every_file_under_its_hash() {
    let subject = DEMO.subject();
    let mut archive = Vec::new();
    write_bundle(&subject, &[], &mut archive, Stop::NEVER).unwrap();
    let read = python("read_archive.py", &BTreeMap::from([("all.zip".to_owned(), archive.clone())]));
    assert!(read["broken"].is_null(), "{read}");
    assert_eq!(read["wrong"], serde_json::json!([]));
    assert_eq!(read["same"], true, "the manifest lists every file in its order");
    let left_out = read["manifest"]["left_out"].as_array().unwrap().len();
    assert_eq!(read["count"].as_u64().unwrap() as usize, files(&subject).len() - left_out + 1);
    assert_eq!(read["manifest"]["kit"], "QF-0101");
    assert!(read["manifest"]["cautions"][0].as_str().unwrap().contains("ask for its state"), "{read}");
    assert_eq!(read["dates"], serde_json::json!([1980]), "the same files are the same bytes on any day");
    let mut again = Vec::new();
    write_bundle(&subject, &[], &mut again, Stop::NEVER).unwrap();
    assert!(archive == again, "the same frame gives the same bytes");
}

#[test]
fn an_archive_of_some_formats_holds_no_others() {
    let mut archive = Vec::new();
    write_bundle(&DEMO.subject(), &["csv", "glb"], &mut archive, Stop::NEVER).unwrap();
    let read = python("read_archive.py", &BTreeMap::from([("all.zip".to_owned(), archive)]));
    let listed = files(&DEMO.subject()).into_iter().filter(|file| ["csv", "glb"].contains(&file.format)).count();
    assert_eq!(read["count"].as_u64().unwrap() as usize, listed + 1);
}

/// A reader that goes away.
struct Gone(usize);

impl Write for Gone {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        self.0 = self.0.saturating_sub(bytes.len());
        if self.0 == 0 { Err(std::io::ErrorKind::BrokenPipe.into()) } else { Ok(bytes.len()) }
    }

    fn flush(&mut self) -> std::io::Result<()> {
        Ok(())
    }
}

#[test]
fn nothing_goes_on_for_a_reader_that_is_gone() {
    let error = write_bundle(&DEMO.subject(), &[], Gone(20_000), Stop::NEVER).unwrap_err();
    assert_eq!(error.code(), "export-failed");
}
