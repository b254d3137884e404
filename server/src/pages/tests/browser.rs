//! A browser whose owner reads the pseudo-language, at a service in this process.

use crate::words::PSEUDO_LANGUAGE;
use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::{Request, StatusCode, header};
use hyper::service::Service;
use hyper_util::service::TowerToHyperService;
use serde_json::Value;

pub struct Browser {
    router: Router,
    pub name: &'static str,
    cookie: Option<String>,
}

/// A page, or where it leads to.
pub struct Page {
    pub status: StatusCode,
    pub place: String,
    pub text: String,
}

impl Browser {
    pub fn at(router: &Router, name: &'static str) -> Self {
        Self { router: router.clone(), name, cookie: None }
    }

    /// One that someone has signed in with.
    pub async fn with_token(router: &Router, name: &'static str, token: &str) -> Self {
        let mut browser = Self::at(router, name);
        let form = format!("token={token}");
        let answer = browser.send(browser.request("POST", "/sign-in/token").body(Body::from(form)).unwrap()).await;
        browser.cookie = answer.2.map(|cookie| cookie.split(';').next().unwrap().to_owned());
        assert!(browser.cookie.is_some(), "{name}: {}", answer.1);
        browser
    }

    fn request(&self, method: &str, place: &str) -> axum::http::request::Builder {
        let request = Request::builder()
            .method(method)
            .uri(place)
            .header(header::ACCEPT, "text/html")
            .header(header::ACCEPT_LANGUAGE, PSEUDO_LANGUAGE)
            .header(header::CONTENT_TYPE, "application/x-www-form-urlencoded")
            .header("sec-fetch-site", "same-origin");
        match &self.cookie {
            Some(cookie) => request.header(header::COOKIE, cookie),
            None => request,
        }
    }

    async fn send(&self, request: Request<Body>) -> (StatusCode, String, Option<String>, String) {
        let answer = TowerToHyperService::new(self.router.clone()).call(request).await.unwrap();
        let header = |name| answer.headers().get(name).and_then(|value| value.to_str().ok()).map(str::to_owned);
        let (cookie, place) = (header(header::SET_COOKIE), header(header::LOCATION).unwrap_or_default());
        let status = answer.status();
        let bytes = to_bytes(answer.into_body(), usize::MAX).await.unwrap();
        (status, String::from_utf8_lossy(&bytes).into_owned(), cookie, place)
    }

    pub async fn get(&self, place: &str) -> Page {
        let (status, text, _, place) = self.send(self.request("GET", place).body(Body::empty()).unwrap()).await;
        Page { status, place, text }
    }

    /// Sends the form of a page that goes to this place, with its hidden fields and these.
    pub async fn fill(&self, page: &Page, place: &str, fields: &[(&str, &str)]) -> Page {
        let (_, form) =
            page.text.split_once(&format!("action=\"{place}\"")).unwrap_or_else(|| panic!("no form {place}"));
        let hidden = form.split("</form>").next().unwrap().split("<input type=\"hidden\" name=\"").skip(1);
        let hidden = hidden.map(|rest| {
            let (name, rest) = rest.split_once("\" value=\"").unwrap();
            (name.to_owned(), rest.split('"').next().unwrap().replace("&amp;", "&"))
        });
        let own = fields.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned()));
        let form = serde_urlencoded::to_string(hidden.chain(own).collect::<Vec<_>>()).unwrap();
        let (status, text, _, place) = self.send(self.request("POST", place).body(Body::from(form)).unwrap()).await;
        Page { status, place, text }
    }

    /// What the API says of a request that it refuses.
    pub async fn refused(&self, method: &str, place: &str, headers: &[(&str, &str)], body: &'static str) -> Value {
        let mut request = Request::builder().method(method).uri(place).header(header::ACCEPT_LANGUAGE, PSEUDO_LANGUAGE);
        for (name, value) in headers {
            request = request.header(*name, *value);
        }
        let (status, text, ..) = self.send(request.body(Body::from(body)).unwrap()).await;
        assert!(status.is_client_error(), "{method} {place}: {status} {text}");
        serde_json::from_str(&text).unwrap()
    }

    /// What the API answers to this token; nothing where it refuses.
    pub async fn json(&self, token: &str, place: &str) -> Value {
        let request = Request::builder().uri(place).header(header::AUTHORIZATION, format!("Bearer {token}"));
        let (_, text, ..) = self.send(request.body(Body::empty()).unwrap()).await;
        serde_json::from_str(&text).unwrap_or_default()
    }
}
