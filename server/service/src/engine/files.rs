//! Files for machines and other programs: one at a time, or all of them as they are made.

use super::{Engine, Evaluated};
use crate::ServiceError;
use matchmark_core::Stop;
use matchmark_export::{ExportError, FORMATS, Facts, FileInfo, LabelSheet, Subject, files, write_bundle, write_file};
use std::io::{BufWriter, ErrorKind, Write};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use tokio::sync::mpsc;

/// Bytes of an archive that are sent on at once.
const CHUNK: usize = 64 << 10;

/// An archive on its way: its bytes piece by piece, and at its end why it broke off, if it did.
pub struct Chunks {
    receiver: mpsc::UnboundedReceiver<Result<Vec<u8>, ServiceError>>,
    first: Option<Vec<u8>>,
}

impl Chunks {
    /// The next piece; none after the last.
    pub fn poll_next(
        &mut self,
        context: &mut std::task::Context,
    ) -> std::task::Poll<Option<Result<Vec<u8>, ServiceError>>> {
        match self.first.take() {
            Some(first) => std::task::Poll::Ready(Some(Ok(first))),
            None => self.receiver.poll_recv(context),
        }
    }
}

/// Takes what is written as long as somebody waits for it.
struct Sender(mpsc::UnboundedSender<Result<Vec<u8>, ServiceError>>);

impl Write for Sender {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        self.0.send(Ok(bytes.to_vec())).map_err(|_| ErrorKind::BrokenPipe)?;
        Ok(bytes.len())
    }

    fn flush(&mut self) -> std::io::Result<()> {
        Ok(())
    }
}

impl Engine {
    /// What files there are.
    pub async fn list_files(&self, evaluated: Arc<Evaluated>, facts: Facts) -> Result<Vec<FileInfo>, ServiceError> {
        self.run(move |_| Ok(files(&Subject::of(&evaluated.evaluation, &facts)?))).await
    }

    /// One file by its name, and its media type.
    pub async fn make_file(
        &self,
        evaluated: Arc<Evaluated>,
        facts: Facts,
        labels: LabelSheet,
        name: String,
    ) -> Result<(Vec<u8>, &'static str), ServiceError> {
        self.run(move |stop| {
            let subject = Subject { labels, ..Subject::of(&evaluated.evaluation, &facts)? };
            let format = files(&subject).into_iter().find(|file| file.name == name).map(|file| file.format);
            let format = FORMATS.iter().find(|known| Some(known.id) == format);
            let format = format.ok_or_else(|| ServiceError::UnknownFile(name.clone()))?;
            Ok((write_file(&subject, &name, stop)?, format.media_type))
        })
        .await
    }

    /// All files in one archive. It is made as fast as it can be, whoever reads it how slowly, so that it holds up nobody else; what
    /// nobody reads any more is given up, and so is what takes longer than a computation may.
    pub async fn make_bundle(
        &self,
        evaluated: Arc<Evaluated>,
        facts: Facts,
        labels: LabelSheet,
    ) -> Result<Chunks, ServiceError> {
        let (sender, mut receiver) = mpsc::unbounded_channel();
        let turn = self.turn().await?;
        let budget = self.budget;
        let late = Arc::new(AtomicBool::new(false));
        let alarm = tokio::spawn({
            let late = Arc::clone(&late);
            async move {
                tokio::time::sleep(budget).await;
                late.store(true, Ordering::Relaxed);
            }
        });
        tokio::task::spawn_blocking(move || {
            let made = turn.work(|| {
                let subject = Subject { labels, ..Subject::of(&evaluated.evaluation, &facts)? };
                let sink = BufWriter::with_capacity(CHUNK, Sender(sender.clone()));
                write_bundle(&subject, &[], sink, Stop::when(&late))
            });
            drop(turn);
            alarm.abort();
            match made {
                Ok(()) => {}
                Err(ExportError::Stopped) => {
                    let _ = sender.send(Err(ServiceError::OutOfTime { seconds: budget.as_secs() }));
                }
                Err(error) => {
                    let _ = sender.send(Err(error.into()));
                }
            }
        });
        // What fails at once is a refusal, and not an archive that breaks off.
        match receiver.recv().await {
            Some(Ok(first)) => Ok(Chunks { receiver, first: Some(first) }),
            Some(Err(error)) => Err(error),
            None => Err(ServiceError::CutOff),
        }
    }
}
