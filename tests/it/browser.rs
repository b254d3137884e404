//! A browser without a screen: it keeps the cookie, says where it comes from, and fills in the forms of pages.

use crate::server::{Answer, Server};

/// A browser at one server.
pub struct Browser<'s> {
    server: &'s Server,
    cookie: Option<String>,
}

/// A page that was answered.
pub struct Page {
    pub answer: Answer,
    pub text: String,
}

impl Page {
    fn of(answer: Answer) -> Self {
        let text = String::from_utf8_lossy(&answer.body).into_owned();
        Self { answer, text }
    }

    /// The page itself when it has this status.
    #[track_caller]
    pub fn expect(self, status: u16) -> Self {
        assert_eq!(self.answer.status, status, "{}", self.text);
        self
    }

    /// Where it leads to.
    pub fn leads_to(&self) -> &str {
        self.answer.header("location")
    }

    #[track_caller]
    pub fn says(self, words: &str) -> Self {
        assert!(self.text.contains(words), "no {words:?} in {}", self.text);
        self
    }

    #[track_caller]
    pub fn says_nothing_of(self, words: &str) -> Self {
        assert!(!self.text.contains(words), "{words:?} in {}", self.text);
        self
    }

    /// The hidden fields of the form with this action.
    #[track_caller]
    pub fn hidden(&self, action: &str) -> Vec<(String, String)> {
        let (_, form) = self
            .text
            .split_once(&format!("action=\"{action}\""))
            .unwrap_or_else(|| panic!("no form {action} in {}", self.text));
        let form = form.split("</form>").next().unwrap();
        let inputs = form.split("<input type=\"hidden\" name=\"").skip(1);
        inputs
            .map(|rest| {
                let (name, rest) = rest.split_once("\" value=\"").unwrap();
                let value = rest.split('"').next().unwrap();
                let value =
                    value.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&");
                (name.to_owned(), value)
            })
            .collect()
    }
}

impl<'s> Browser<'s> {
    pub fn at(server: &'s Server) -> Self {
        Self { server, cookie: None }
    }

    /// One that one of the supplier's people has signed in with.
    pub fn with_token(server: &'s Server, token: &str) -> Self {
        let mut browser = Self::at(server);
        browser.send_form("/sign-in/token", &[("token", token)]).expect(303);
        browser
    }

    /// What it shows of itself.
    pub fn cookie(&self) -> &str {
        self.cookie.as_deref().unwrap_or_default()
    }

    pub fn get(&self, path: &str) -> Page {
        let headers = [("cookie", self.cookie()), ("accept", "text/html,*/*;q=0.8")];
        Page::of(self.server.send("GET", path, "", &headers, None))
    }

    /// Sends fields with headers of one's own choosing.
    pub fn send_with(&self, path: &str, headers: &[(&str, &str)], fields: &[(&str, &str)]) -> Page {
        let fixed = [
            ("cookie", self.cookie()),
            ("accept", "text/html,*/*;q=0.8"),
            ("content-type", "application/x-www-form-urlencoded"),
        ];
        let headers: Vec<_> = fixed.into_iter().chain(headers.iter().copied()).collect();
        Page::of(self.server.send("POST", path, "", &headers, Some(&encoded(fields))))
    }

    /// Sends fields as a form of this server's own page.
    pub fn send_form(&mut self, path: &str, fields: &[(&str, &str)]) -> Page {
        let page = self.send_with(path, &[("sec-fetch-site", "same-origin")], fields);
        if let Some(set) = page.answer.headers.get("set-cookie") {
            let pair = set.to_str().unwrap().split(';').next().unwrap().to_owned();
            self.cookie = Some(pair).filter(|pair| !pair.ends_with('='));
        }
        page
    }

    /// Opens a page, fills in its form with this action and sends it; says yes where it is asked once more.
    pub fn fill_in(&mut self, page: &str, action: &str, fields: &[(&str, &str)]) -> Page {
        let asked = self.begin(page, action, fields);
        if asked.answer.status == 200 && asked.text.contains("name=\"sure\" value=\"yes\"") {
            return self.answer(&asked, action, "yes");
        }
        asked
    }

    /// Answers the question whether a form is meant.
    pub fn answer(&mut self, asked: &Page, action: &str, sure: &str) -> Page {
        let hidden = asked.hidden(action);
        let mut all: Vec<(&str, &str)> = hidden.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
        all.push(("sure", sure));
        self.send_form(action, &all)
    }

    /// Opens a page, fills in its form with this action and sends it.
    pub fn begin(&mut self, page: &str, action: &str, fields: &[(&str, &str)]) -> Page {
        let hidden = self.get(page).expect(200).hidden(action);
        let all: Vec<(&str, &str)> =
            hidden.iter().map(|(name, value)| (name.as_str(), value.as_str())).chain(fields.iter().copied()).collect();
        self.send_form(action, &all)
    }
}

fn encoded(fields: &[(&str, &str)]) -> String {
    let encode = |text: &str| -> String {
        let plain = |b: u8| b.is_ascii_alphanumeric() || b"-._~".contains(&b);
        text.bytes().map(|b| if plain(b) { char::from(b).to_string() } else { format!("%{b:02X}") }).collect()
    };
    let pairs: Vec<String> = fields.iter().map(|(name, value)| format!("{}={}", encode(name), encode(value))).collect();
    pairs.join("&")
}
