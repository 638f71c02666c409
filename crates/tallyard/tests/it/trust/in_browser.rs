//! The safe address in a real browser.

use super::opened;
use crate::driver::{Browser, Trusts};
use crate::program::Place;

/// A name that is not the browser's own computer to it, so that a plain page is not trusted for that reason alone.
const NAME: &str = "yard.local";

#[test]
fn in_a_browser_the_safe_address_has_what_work_out_of_reach_needs() {
    let place = Place::with_demo_job();
    let yard = opened(&place);
    let map = format!("--host-resolver-rules=MAP {NAME} 127.0.0.1");
    let browser = Browser::open_with(390, 844, &[&map], Trusts::Anyone);
    let at = |said: &str| yard.said(said).replace("127.0.0.1", NAME);
    let can = "return [isSecureContext, 'serviceWorker' in navigator, 'mediaDevices' in navigator]";
    browser.go(&at("join_address"));
    browser.fill("#who", "Ada");
    browser.submit("button.main");
    assert_eq!(browser.run(can), serde_json::json!([false, false, false]));

    // A link leads over, and the phone has joined there already: the cookie goes with it.
    browser.run(&format!(
        "window.beforeSubmit = true; const a = document.createElement('a'); a.href = '{}/phones'; \
         document.body.append(a); a.click()",
        at("safe_address")
    ));
    browser.wait(
        "the safe address",
        "return !window.beforeSubmit && document.readyState === 'complete'",
    );
    assert_eq!(browser.path(), "/phones");
    assert!(browser.text("header .who").contains("Ada"));
    assert_eq!(browser.run(can), serde_json::json!([true, true, true]));
    assert_eq!(browser.run("return location.protocol"), "https:");

    // Forms work there too, and what is written is the same phone's.
    browser.go(&format!("{}/count/P1", at("safe_address")));
    browser.fill("#quantity", "3");
    browser.submit("form.adding button.main");
    assert!(browser.text("[role=status]").contains("Kept."));
    let complaints = browser.complaints();
    assert_eq!(complaints, Vec::<String>::new());

    // A browser that joins there keeps its secret from the plain address, which can still be joined.
    let other = Browser::open_with(390, 844, &[&map], Trusts::Anyone);
    other.go(&format!(
        "{}/join?code={}",
        at("safe_address"),
        yard.said("join_code")
    ));
    other.fill("#who", "Ben");
    other.submit("button.main");
    assert!(other.text("header .who").contains("Ben"));
    other.go(&at("join_address"));
    assert!(other.path().starts_with("/join"), "{}", other.path());
    other.fill("#who", "Ben again");
    other.submit("button.main");
    assert!(other.text("header .who").contains("Ben again"));
    other.go(&at("safe_address"));
    assert!(!other.text("header .who").contains("again"));
}

/// A real browser with our authority among its own, and one with another yard's.
#[test]
fn a_browser_that_trusts_the_certificate_meets_no_warning() {
    let place = Place::with_demo_job();
    let yard = opened(&place);
    let given = yard.stranger().get("/trust/tallyard.crt").body;
    let join = format!("{}/join", yard.said("safe_address"));
    let keeps = "const done = arguments[0]; navigator.serviceWorker.register('/worker.js') \
                 .then(() => done('kept'), e => done(String(e)))";
    let refusal = "SSL certificate error";

    let trusts = Browser::open_with(390, 844, &[], Trusts::Only(&given));
    trusts.go(&join);
    assert_eq!(trusts.text("h1"), "Join this job");
    let said = trusts.run_until_called(keeps);
    assert_eq!(said, "kept");

    let other = Place::with_demo_job();
    let other = opened(&other).stranger().get("/trust/tallyard.crt").body;
    let warned = Browser::open_with(390, 844, &[], Trusts::Only(&other));
    warned.go(&join);
    assert_eq!(warned.run("return location.protocol"), "chrome-error:");
    // What people of this browser type to go past its warning. It shows the page, and keeps nothing for work out of
    // reach: the page on trust says so.
    "thisisunsafe".chars().for_each(|key| warned.press(key));
    warned.wait(
        "the page past the warning",
        "return location.pathname === '/join'",
    );
    let said = warned.run_until_called(keeps);
    assert!(said.as_str().unwrap().contains(refusal), "{said}");
}
