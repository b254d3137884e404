//! Where to go after signing in: a page of this service, and nowhere else.

use axum::http::Uri;
use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, percent_decode_str, utf8_percent_encode};
use url::Url;

/// What stands in the value of a query as it is.
const ESCAPED: &AsciiSet = &NON_ALPHANUMERIC.remove(b'/').remove(b'-').remove(b'_').remove(b'.').remove(b'~');

/// The address of the page to sign in on, from which the way leads back to this one.
pub fn sign_in_before(here: &Uri) -> String {
    let here = here.path_and_query().map_or("/", |path| path.as_str());
    format!("/sign-in?then={}", utf8_percent_encode(here, ESCAPED))
}

/// An address on this service, path and query, as browsers will read it; `None` for every other, and for one in which anything on the
/// way could see another host or the end of a header.
pub fn on_this_service(then: &str) -> Option<String> {
    let plain = |b: u8| (0x21..0x7f).contains(&b) && b != b'\\';
    if !then.starts_with('/') || !then.bytes().all(plain) {
        return None;
    }
    let here = Url::parse("https://here.invalid").ok()?;
    let there = here.join(then).ok()?;
    let path = there.path();
    let decoded: Vec<u8> = percent_decode_str(path).collect();
    let is_ours = there.origin() == here.origin() && there.username().is_empty() && there.password().is_none();
    let is_path = !decoded.starts_with(b"//") && decoded.iter().all(|&b| b >= 0x20 && b != 0x7f && b != b'\\');
    if !is_ours || !is_path {
        return None;
    }
    Some(match there.query() {
        Some(query) => format!("{path}?{query}"),
        None => path.to_owned(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// How browsers read an address: the URL Standard, sections 4.4 ("basic URL parser": tabs and line ends are dropped, a backslash is a
    /// slash) and 4.5.
    #[test]
    fn only_a_path_of_ours_is_gone_to() {
        for (then, wanted) in [
            ("/kits/K-1", "/kits/K-1"),
            ("/support?q=K-1", "/support?q=K-1"),
            ("/kits/K-1#packs", "/kits/K-1"),
            ("/a/../kits", "/kits"),
            ("/kits/%20", "/kits/%20"),
            ("/", "/"),
        ] {
            assert_eq!(on_this_service(then).as_deref(), Some(wanted), "{then}");
        }
        for then in [
            "",
            "kits",
            "//host",
            "///host",
            "/\\host",
            "\\\\host",
            "/\t/host",
            "/\n/host",
            "/%09/host",
            "/%0a/host",
            "/%0D%0Aset-cookie:x",
            "/%01",
            "/\u{1}",
            "/%5chost",
            "/%5C/host",
            "/%7f",
            "/.//host",
            "/a/..//host",
            "/%2fhost",
            "/%2F/host",
            "https://host/",
            "https:host",
            "javascript:x",
            "/k\u{e9}",
            "/ x",
            " /kits",
        ] {
            assert_eq!(on_this_service(then), None, "{then:?}");
        }
    }

    #[test]
    fn the_way_back_survives_the_query() {
        let here: Uri = "/support?q=K-1&x=%20+1".parse().expect("an address");
        let address = sign_in_before(&here);
        assert_eq!(address, "/sign-in?then=/support%3Fq%3DK-1%26x%3D%2520%2B1");
        let sent = address.split_once('?').expect("a query").1;
        let fields: Vec<(String, String)> = serde_urlencoded::from_str(sent).expect("a query");
        assert_eq!(fields[0].1, here.to_string());
    }
}
