//! What support finds.

use crate::browser::Browser;
use crate::fixtures::two_kits;

#[tokio::test]
async fn support_finds_a_kit_by_anything_and_sees_whose_it_is_only_when_asking() {
    let kits = two_kits();
    let mut browser = Browser::with_token(&kits.server, &kits.support);
    let code = kits.server.get("/v1/kits/K-1/packs/1/manifest", &kits.first).json()["pages"][0]["code"].clone();
    for q in ["K-1", "k-1", "https%3A%2F%2Fshop.example%2FK-1", code.as_str().unwrap()] {
        let page = browser.get(&format!("/support?q={q}")).expect(200);
        let page =
            page.says("K-1").says("The newest in force is").says_nothing_of("A. Builder").says_nothing_of("builder@");
        if q == code.as_str().unwrap() {
            page.says("The page in the caller's hand").says("Current: pack 1 of").says("Page 1 of ");
        } else {
            page.says_nothing_of("in the caller's hand");
        }
    }
    let both = browser.get("/support?q=builder%40example.com").expect(200);
    both.says("Which of these?").says("/support?q=K-2").says_nothing_of("A. Builder");
    browser.get("/support?q=nothing-like-it").says("Nothing matches");
    browser
        .fill_in("/support?q=K-1", "/support/K-1/person", &[])
        .expect(200)
        .says("A. Builder")
        .says("builder@example.com");
    let mut records = kits.server.data.open().await;
    let shown = records.lines("SELECT subject FROM audit WHERE action = 'show-customer'").await;
    assert_eq!(shown, ["kits/K-1"]);
}
