//! Other sites that may call the API from a browser.

use axum::http::HeaderValue;
use url::{Position, Url};

/// The origins of a list, such as `https://shop.example,https://desk.example:8443`.
///
/// # Errors
/// The entry that is no origin.
pub fn parse(list: &str) -> Result<Vec<HeaderValue>, String> {
    let entries = list.split(',').map(str::trim).filter(|entry| !entry.is_empty());
    entries.map(|entry| origin(entry).ok_or_else(|| entry.to_owned())).collect()
}

/// An origin as browsers write it: scheme, host and a port other than that of the scheme.
fn origin(entry: &str) -> Option<HeaderValue> {
    let url = Url::parse(entry).ok().filter(|url| matches!(url.scheme(), "http" | "https"))?;
    let written = &url[..Position::BeforePath];
    (url.username().is_empty() && written == entry).then(|| HeaderValue::from_str(written).ok()).flatten()
}

#[cfg(test)]
mod tests {
    use super::parse;

    #[test]
    fn an_origin_is_written_as_browsers_write_it() {
        assert_eq!(parse("").unwrap().len(), 0);
        let both = parse("https://shop.example, http://localhost:5173").unwrap();
        assert_eq!(both, ["https://shop.example", "http://localhost:5173"]);
        for wrong in
            ["*", "shop.example", "https://shop.example/", "https://shop.example:443", "null", "https://a@b.example"]
        {
            assert_eq!(parse(wrong).unwrap_err(), wrong);
        }
    }
}
