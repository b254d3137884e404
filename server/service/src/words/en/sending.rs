//! Why a notice or recall was not delivered.

use crate::words::groups::sending::Sending;

pub const WORDS: Sending = Sending {
    no_mail_server: "no mail server is configured now",
    no_webhook: "no webhook is configured now",
    customer_erased: "the customer was erased",
    bad_address: "the address cannot receive mail",
    not_written: "the mail cannot be written",
    mail_answered: "the mail server answered {code}",
    mail_away: "the mail server cannot be reached or closed the connection",
    not_signed: "the message cannot be signed",
    webhook_answered: "the receiver answered {status}",
    webhook_away: "the receiver cannot be reached: {why}",
}
.checked();
