//! A connection whose reader must take what it is sent at a least rate.

use std::future::Future;
use std::io::{self, IoSlice};
use std::pin::Pin;
use std::task::{Context, Poll, ready};
use std::time::Duration;
use tokio::io::{AsyncRead, AsyncWrite, ReadBuf};
use tokio::time::{Instant, Sleep, sleep};

/// How long a reader may take nothing.
const GRACE: Duration = Duration::from_secs(20);

/// What a reader owes: while it takes nothing it runs up bytes at the least rate, and what it takes pays for them. It is borne up
/// to the bytes of [`GRACE`], so that standing still ends after that time, and being too slow after one that depends on how slow.
#[derive(Debug)]
struct Debt {
    /// Least bytes a second.
    rate: f64,
    bytes: f64,
}

impl Debt {
    /// How much longer nothing may be taken.
    fn left(&self) -> Duration {
        Duration::from_secs_f64((GRACE.as_secs_f64() - self.bytes / self.rate).max(0.0))
    }

    /// So many bytes were taken after waiting.
    fn pay(&mut self, waited: Duration, bytes: usize) {
        let paid = f64::from(u32::try_from(bytes).unwrap_or(u32::MAX));
        self.bytes = (self.bytes + waited.as_secs_f64() * self.rate - paid).max(0.0);
    }
}

/// A connection and what its reader owes.
pub struct Paced<S> {
    inner: S,
    debt: Debt,
    /// Since when nothing was taken.
    waiting: Option<Instant>,
    /// When that is not waited for any longer.
    ends: Pin<Box<Sleep>>,
}

impl<S> Paced<S> {
    /// A connection whose reader takes so many bytes a second at least.
    pub fn new(inner: S, rate: u32) -> Self {
        let debt = Debt { rate: f64::from(rate), bytes: 0.0 };
        Self { inner, debt, waiting: None, ends: Box::pin(sleep(GRACE)) }
    }

    /// The reader takes nothing at present.
    fn wait(&mut self, context: &mut Context<'_>) -> Poll<io::Error> {
        if self.waiting.is_none() {
            let now = Instant::now();
            self.waiting = Some(now);
            self.ends.as_mut().reset(now + self.debt.left());
        }
        ready!(self.ends.as_mut().poll(context));
        Poll::Ready(io::Error::new(io::ErrorKind::TimedOut, "the reader is too slow"))
    }

    fn settled(&mut self, context: &mut Context<'_>, written: Poll<io::Result<usize>>) -> Poll<io::Result<usize>> {
        match written {
            Poll::Pending => self.wait(context).map(Err),
            Poll::Ready(written) => {
                if let Ok(bytes) = written {
                    let waited = self.waiting.take().map_or(Duration::ZERO, |since| since.elapsed());
                    self.debt.pay(waited, bytes);
                }
                Poll::Ready(written)
            }
        }
    }
}

impl<S: AsyncRead + Unpin> AsyncRead for Paced<S> {
    fn poll_read(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        buffer: &mut ReadBuf<'_>,
    ) -> Poll<io::Result<()>> {
        Pin::new(&mut self.inner).poll_read(context, buffer)
    }
}

impl<S: AsyncWrite + Unpin> AsyncWrite for Paced<S> {
    fn poll_write(mut self: Pin<&mut Self>, context: &mut Context<'_>, bytes: &[u8]) -> Poll<io::Result<usize>> {
        let written = Pin::new(&mut self.inner).poll_write(context, bytes);
        self.settled(context, written)
    }

    fn poll_write_vectored(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        slices: &[IoSlice<'_>],
    ) -> Poll<io::Result<usize>> {
        let written = Pin::new(&mut self.inner).poll_write_vectored(context, slices);
        self.settled(context, written)
    }

    fn is_write_vectored(&self) -> bool {
        self.inner.is_write_vectored()
    }

    fn poll_flush(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.inner).poll_flush(context)
    }

    fn poll_shutdown(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.inner).poll_shutdown(context)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// How many times a reader takes so many bytes, each after waiting so long, before it is let go of; at most 10,000.
    fn times(bytes: usize, waits: Duration) -> usize {
        let mut debt = Debt { rate: 1000.0, bytes: 0.0 };
        (0..10_000)
            .find(|_| {
                let is_over = waits >= debt.left();
                debt.pay(waits, bytes);
                is_over
            })
            .unwrap_or(10_000)
    }

    #[test]
    fn a_slow_reader_is_let_go_of_and_a_steady_one_is_not() {
        assert_eq!(times(1000, Duration::from_millis(900)), 10_000);
        assert_eq!(times(60_000, Duration::from_secs(19)), 10_000, "much at a time");
        assert_eq!(
            times(1000, Duration::from_millis(1100)),
            189,
            "a little too slow: a tenth of a second owed each time"
        );
        assert_eq!(times(1, Duration::from_secs(19)), 1, "a crumb now and then");
        assert_eq!(times(0, Duration::from_secs(20)), 0, "nothing at all");
    }
}
