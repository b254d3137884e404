//! Receivers on loopback: of a webhook and of mail. They keep what they were sent and answer as told.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{SocketAddr, TcpListener, TcpStream};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

/// For one that takes what comes and never says so.
pub const NEVER: u16 = 0;

/// What was posted: headers in small letters, and the body.
#[derive(Debug, Clone)]
pub struct Posted {
    pub headers: Vec<(String, String)>,
    pub body: String,
}

impl Posted {
    #[track_caller]
    pub fn header(&self, name: &str) -> &str {
        let found = self.headers.iter().find(|(header, _)| header == name);
        &found.unwrap_or_else(|| panic!("no {name} in {self:?}")).1
    }
}

/// A receiver and what came to it.
pub struct Sink<T> {
    pub address: SocketAddr,
    came: Arc<Mutex<Vec<T>>>,
    /// What it answers; the last for ever.
    answers: Arc<Mutex<Vec<u16>>>,
}

impl<T: Clone + Send + 'static> Sink<T> {
    fn start(answers: &[u16], take: fn(TcpStream, u16) -> Option<T>) -> Self {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let sink = Self {
            address: listener.local_addr().unwrap(),
            came: Arc::default(),
            answers: Arc::new(Mutex::new(answers.to_vec())),
        };
        let (came, answers) = (Arc::clone(&sink.came), Arc::clone(&sink.answers));
        std::thread::spawn(move || {
            for stream in listener.incoming() {
                let Ok(stream) = stream else { return };
                let answer = {
                    let mut answers = answers.lock().unwrap();
                    if answers.len() > 1 { answers.remove(0) } else { answers[0] }
                };
                if let Some(one) = take(stream, answer) {
                    came.lock().unwrap().push(one);
                }
            }
        });
        sink
    }

    /// All that came, once it is so many.
    #[track_caller]
    pub fn when(&self, count: usize) -> Vec<T> {
        let begun = Instant::now();
        loop {
            let came = self.came.lock().unwrap().clone();
            if came.len() >= count {
                return came;
            }
            assert!(begun.elapsed() < Duration::from_secs(30), "{} of {count} came", came.len());
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    /// Answers this from now on.
    pub fn answer(&self, status: u16) {
        *self.answers.lock().unwrap() = vec![status];
    }
}

/// A receiver of a webhook that answers these statuses.
pub fn webhook(answers: &[u16]) -> Sink<Posted> {
    Sink::start(answers, |stream, status| {
        let mut reader = BufReader::new(stream.try_clone().ok()?);
        let mut line = String::new();
        reader.read_line(&mut line).ok()?;
        let mut headers = Vec::new();
        loop {
            let mut line = String::new();
            reader.read_line(&mut line).ok()?;
            let Some((name, value)) = line.trim_end().split_once(": ") else { break };
            headers.push((name.to_ascii_lowercase(), value.to_owned()));
        }
        let length = headers.iter().find(|(name, _)| name == "content-length")?.1.parse().ok()?;
        let mut body = vec![0; length];
        reader.read_exact(&mut body).ok()?;
        let mut stream = stream;
        if status == NEVER {
            // Open until the test ends.
            std::mem::forget(stream);
            return Some(Posted { headers, body: String::from_utf8(body).ok()? });
        }
        write!(stream, "HTTP/1.1 {status} Told\r\ncontent-length: 0\r\nconnection: close\r\n\r\n").ok()?;
        Some(Posted { headers, body: String::from_utf8(body).ok()? })
    })
}

/// A mail server that takes letters, or refuses every receiver with a code of 400 or more. What came is the whole letter after a
/// line with its receiver.
pub fn mail(answers: &[u16]) -> Sink<String> {
    Sink::start(answers, |mut stream, answer| {
        let mut reader = BufReader::new(stream.try_clone().ok()?);
        write!(stream, "220 sink\r\n").ok()?;
        let mut letter = String::new();
        loop {
            let mut line = String::new();
            if reader.read_line(&mut line).ok()? == 0 {
                return None;
            }
            let verb = line.get(..4).unwrap_or_default().to_ascii_uppercase();
            match verb.as_str() {
                "EHLO" | "HELO" | "MAIL" | "RSET" | "NOOP" => write!(stream, "250 sink\r\n").ok()?,
                "RCPT" if answer >= 400 => {
                    write!(stream, "{answer} not here\r\n").ok()?;
                    return Some(format!("refused {line}"));
                }
                "RCPT" => {
                    letter.push_str(&line);
                    write!(stream, "250 sink\r\n").ok()?;
                }
                "DATA" => {
                    write!(stream, "354 go on\r\n").ok()?;
                    loop {
                        let mut line = String::new();
                        reader.read_line(&mut line).ok()?;
                        if line == ".\r\n" {
                            break;
                        }
                        letter.push_str(&line);
                    }
                    if answer == NEVER {
                        std::mem::forget(stream);
                        return Some(letter);
                    }
                    write!(stream, "250 taken\r\n").ok()?;
                    return Some(letter);
                }
                _ => {
                    write!(stream, "221 bye\r\n").ok()?;
                    return None;
                }
            }
        }
    })
}
