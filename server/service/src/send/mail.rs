//! Electronic mail through a server that takes it from us.

use super::{Message, NotSent, NotSentCause};
use lettre::message::{Mailbox, header::ContentType};
use lettre::transport::smtp::SmtpTransport;
use lettre::{Address, Transport};
use std::time::Duration;

const WITHIN: Duration = Duration::from_secs(15);

/// How mail is sent.
pub struct Mail {
    server: SmtpTransport,
    from: Mailbox,
}

impl std::fmt::Debug for Mail {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.debug_struct("Mail").field("from", &self.from).finish_non_exhaustive()
    }
}

impl Mail {
    /// Through this server, from this mailbox.
    pub fn new(server: &str, from: &str) -> Result<Self, String> {
        let server = SmtpTransport::from_url(server).map_err(|error| error.to_string())?;
        let from = from.parse().map_err(|_| "the sender is not a mail address".to_owned())?;
        Ok(Self { server: server.timeout(Some(WITHIN)).build(), from })
    }

    /// Sends a message to an address.
    pub fn send(&self, message: &Message, to: &str) -> Result<(), NotSent> {
        let for_good = |cause: NotSentCause| NotSent { cause, for_good: true };
        let to: Address = to.parse().map_err(|_| for_good(NotSentCause::BadAddress))?;
        let host = self.from.email.domain();
        let mail = lettre::Message::builder()
            .from(self.from.clone())
            .to(Mailbox::new(None, to))
            .subject(&message.subject)
            .message_id(Some(format!("<{}@{host}>", message.id)))
            .header(ContentType::TEXT_PLAIN)
            .body(message.text.clone())
            .map_err(|_| for_good(NotSentCause::NotWritten))?;
        match self.server.send(&mail) {
            Ok(_) => Ok(()),
            Err(error) => Err(NotSent {
                cause: match error.status() {
                    Some(code) => NotSentCause::MailAnswered { code: code.to_string() },
                    None => NotSentCause::MailAway,
                },
                for_good: error.is_permanent(),
            }),
        }
    }
}
