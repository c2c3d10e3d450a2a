//! Every page in both schemes at several widths: nothing for an accessibility checker to find, nothing that scrolls
//! sideways, nothing too small to touch; and pictures of all of them to look at.

use std::path::PathBuf;

use larderwright_e2e::browser::BLANK;
use larderwright_e2e::{Browser, Kitchen, folder, journey, journey_in};
use serde_json::Value;

/// Widths from a small phone to a laptop.
const WIDTHS: [(u32, u32); 3] = [(360, 740), (768, 1024), (1440, 900)];

/// Where `scripts/test` puts the checker.
fn checker() -> Option<String> {
    std::fs::read_to_string(folder().join("axe.min.js")).ok()
}

/// Every page with a name for its pictures.
fn pages(kitchen: &Kitchen) -> Vec<(&'static str, String)> {
    let session = kitchen.week.plan.runs[0].session.as_str();
    let dinner = kitchen
        .week
        .snapshot
        .sittings
        .iter()
        .find(|sitting| sitting.occasion == larderwright_model::Occasion::Dinner)
        .map_or("", |sitting| sitting.id.as_str());
    let component = kitchen.week.plan.batches[0].component.as_str();
    let meal = kitchen.week.plan.menu.choices[0].meal.as_str();
    let to = |path: &str| kitchen.page(path);
    let turn = |what: &str| kitchen.page(&format!("/sittings/{dinner}/turns?what={what}&show=yes"));
    vec![
        ("week", to("/week")),
        ("changes", to("/week/changes")),
        ("shopping", to("/shopping")),
        ("session", to(&format!("/sessions/{session}"))),
        ("larder", to("/larder")),
        ("tonight", to(&format!("/sittings/{dinner}"))),
        ("production", to("/sheets/production")),
        ("prep", to("/sheets/prep")),
        ("run", to("/sheets/run")),
        ("labels", to("/sheets/labels")),
        ("pull", to("/sheets/pull")),
        ("recipes", to("/recipes")),
        ("recipe", to(&format!("/recipes/{component}"))),
        ("meal", to(&format!("/meals/{meal}"))),
        ("foods", to("/foods")),
        ("food", to("/foods/chickpea-dry")),
        ("household", to("/household")),
        ("file", to("/household/file")),
        ("plans", to("/plans")),
        ("not-this", turn("other")),
        ("eating-out", turn("out")),
        ("n-more", turn("more")),
        ("later", turn("late")),
        ("forgot-to-pull", turn("frozen")),
        ("power-cut", turn("power&since=15:00")),
        ("review", to("/review")),
        ("sources", to("/sources")),
        ("missing", to("/nothing")),
    ]
}

fn picture(name: &str, width: u32, dark: bool) -> PathBuf {
    let scheme = if dark { "dark" } else { "light" };
    folder()
        .join("shots")
        .join(format!("{name}-{width}-{scheme}.png"))
}

/// What is wrong with the page that is shown: findings of the checker, sideways scrolling, targets too small.
async fn faults(browser: &Browser, checker: Option<&str>, name: &str) -> Vec<String> {
    let mut faults = Vec::new();
    let wide = browser
        .run("return document.documentElement.scrollWidth > document.documentElement.clientWidth + 1")
        .await;
    if wide == Value::Bool(true) {
        let who = browser
            .run(
                "const w=document.documentElement.clientWidth;return [...document.querySelectorAll('body *')].filter(e=>e.getBoundingClientRect().right>w+1).slice(0,3).map(e=>e.tagName+'.'+e.className).join(' ')",
            )
            .await;
        faults.push(format!("{name}: scrolls sideways: {who}"));
    }
    let small = browser
        .run(
            "return [...document.querySelectorAll('button,.btn,.rail a,.more a,select,input:not([type=hidden]):not([type=radio]):not([type=checkbox])')].filter(e=>{const r=e.getBoundingClientRect();return r.width>0&&r.height>0&&(r.height<43.5||r.width<43.5)}).slice(0,3).map(e=>e.outerHTML.slice(0,90)).join(' | ')",
        )
        .await;
    if small.as_str().is_some_and(|small| !small.is_empty()) {
        faults.push(format!("{name}: too small to touch: {small}"));
    }
    if let Some(checker) = checker {
        browser.run(checker).await;
        let found = browser
            .run_later(
                "const done=arguments[arguments.length-1];axe.run(document,{runOnly:['wcag2a','wcag2aa','wcag21a','wcag21aa','wcag22aa','best-practice']}).then(r=>done(r.violations.map(v=>v.id+': '+v.nodes.slice(0,2).map(n=>n.target.join(' ')+' '+n.failureSummary.slice(0,160)).join(' | '))))",
            )
            .await;
        faults.extend(
            found
                .as_array()
                .into_iter()
                .flatten()
                .filter_map(Value::as_str)
                .map(|fault| format!("{name}: {fault}")),
        );
    }
    faults
}

#[test]
fn every_page_can_be_read_and_used_by_everybody() {
    journey(|kitchen, browser| async move {
        let checker = checker();
        if checker.is_none() {
            println!("without the accessibility checker: `scripts/test` fetches it");
        }
        let mut all = Vec::new();
        for dark in [false, true] {
            browser.dark(dark).await;
            for (width, height) in WIDTHS {
                browser.screen(width, height).await;
                for (name, address) in pages(&kitchen) {
                    browser.goto(&address).await;
                    let name_here = format!("{name} at {width}, dark {dark}");
                    all.extend(faults(&browser, checker.as_deref(), &name_here).await);
                    browser.shot(&picture(name, width, dark)).await;
                }
            }
        }
        assert!(all.is_empty(), "{}", all.join("\n"));
        browser
    });
}

#[test]
fn an_empty_house_can_be_read_and_used_by_everybody() {
    journey_in(Kitchen::empty(), |kitchen, browser| async move {
        let checker = checker();
        let mut all = Vec::new();
        for (dark, (width, height)) in [(false, WIDTHS[0]), (true, WIDTHS[2])] {
            browser.dark(dark).await;
            browser.screen(width, height).await;
            for (name, path) in [
                ("nothing-yet", "/week"),
                ("no-file", "/household/file"),
                ("no-larder", "/larder"),
            ] {
                browser.goto(&kitchen.page(path)).await;
                all.extend(faults(&browser, checker.as_deref(), name).await);
                browser.shot(&picture(name, width, dark)).await;
            }
        }
        assert!(all.is_empty(), "{}", all.join("\n"));
        browser
    });
}

/// What a screen reader says of each control: its group, then its name. Two that do different things must not sound the same.
const NAMES: &str = "const said=new Map(),faults=[];for(const e of document.querySelectorAll('button,a[href],input:not([type=hidden]),select,textarea')){if(!e.getClientRects().length)continue;const label=e.labels&&e.labels[0]?e.labels[0].textContent:'';const name=(e.getAttribute('aria-label')||e.textContent||label||e.value||'').trim().replace(/\\s+/g,' ');if(!name){faults.push('no name: '+e.outerHTML.slice(0,80));continue}const group=e.closest('fieldset,[role=group],section,article');const g=group?(group.getAttribute('aria-label')||group.querySelector('legend,h2,h3')?.textContent||''):'';const does=e.tagName=='A'?e.href:e.name+'='+e.value+' '+(e.form?e.form.action+[...e.form.querySelectorAll('input[type=hidden]')].map(h=>h.name+'='+h.value).join('&'):e.id);const key=e.tagName+' '+g.trim()+': '+name;if(said.has(key)&&said.get(key)!=does)faults.push(key+' | '+said.get(key)+' | '+does);said.set(key,does)}return faults.slice(0,6).join('\\n')";

#[test]
fn controls_that_do_different_things_sound_different() {
    journey(|kitchen, browser| async move {
        browser.screen(1440, 900).await;
        let mut all = Vec::new();
        let mut looked = pages(&kitchen);
        looked.extend(living(&kitchen, &browser).await);
        for (name, address) in looked {
            browser.goto(&address).await;
            let found = browser.run(NAMES).await;
            if let Some(found) = found.as_str().filter(|found| !found.is_empty()) {
                all.push(format!("{name}: {found}"));
            }
        }
        assert!(all.is_empty(), "{}", all.join("\n"));
        browser
    });
}

#[test]
fn every_page_is_still_whole_at_twice_the_size() {
    journey(|kitchen, browser| async move {
        // 200 % of 1440 pixels is what 720 pixels are.
        browser.screen(720, 450).await;
        let mut all = Vec::new();
        for (name, address) in pages(&kitchen) {
            browser.goto(&address).await;
            all.extend(faults(&browser, None, name).await);
        }
        assert!(all.is_empty(), "{}", all.join("\n"));
        browser
    });
}

/// A session that runs and its slips, and a change that is being looked at.
async fn living(kitchen: &Kitchen, browser: &Browser) -> Vec<(&'static str, String)> {
    let run = &kitchen.week.plan.runs[0];
    let session = run.session.as_str();
    let begin = run
        .acts
        .iter()
        .map(|act| act.start)
        .min()
        .expect("the run has acts");
    kitchen.set(begin);
    let page = kitchen.page(&format!("/sessions/{session}"));
    browser.goto(&page).await;
    browser.tap("form[action$=beginnings] button").await;
    browser.find(".cook .far").await;
    // Everything is done in time for the first hour.
    for minute in 1..=60 {
        kitchen.pass(1);
        let now = kitchen.now();
        for act in run.acts.iter().filter(|act| act.end <= now) {
            let script = format!(
                "const done=arguments[arguments.length-1];const t='{}';if(window.sent?.has(t))return done(0);(window.sent??=new Set()).add(t);fetch('/sessions/{session}/completions',{{method:'POST',body:new URLSearchParams({{act:t}})}}).then(()=>done(1))",
                act.id
            );
            if minute % 5 == 0 {
                browser.run_later(&script).await;
            }
        }
    }
    let dinner = &kitchen.week.snapshot.sittings[3].id;
    let act = run
        .acts
        .iter()
        .find(|act| act.end > kitchen.now() && !act.who.is_empty());
    let act = act.map_or("", |act| act.id.as_str());
    let cook = run.acts[0].who[0].as_str();
    let to = |path: String| kitchen.page(&path);
    vec![
        ("live", page),
        ("rest", to(format!("/sessions/{session}/rests"))),
        (
            "away",
            to(format!("/sessions/{session}/absences?cook={cook}&minutes=20")),
        ),
        ("stop", to(format!("/sessions/{session}/stops?by=14:40"))),
        (
            "mishap",
            to(format!("/sessions/{session}/mishaps?act={act}&what=burnt")),
        ),
        (
            "slip",
            to(format!(
                "/week/changes?do=guests&show=yes&count=2&sitting={dinner}"
            )),
        ),
        ("larder-cooked", to("/larder".into())),
        ("review-told", to("/review".into())),
        (
            "someone-ate-it",
            to(format!("/sittings/{dinner}/turns?what=gone&show=yes")),
        ),
        (
            "left-out",
            to(format!("/sittings/{dinner}/turns?what=warm&show=yes")),
        ),
    ]
}

#[test]
fn a_running_session_can_be_read_and_used_by_everybody() {
    journey(|kitchen, browser| async move {
        let checker = checker();
        let pages = living(&kitchen, &browser).await;
        let mut all = Vec::new();
        for dark in [false, true] {
            browser.dark(dark).await;
            for (width, height) in WIDTHS {
                browser.screen(width, height).await;
                for (name, address) in &pages {
                    browser.goto(address).await;
                    let name_here = format!("{name} at {width}, dark {dark}");
                    all.extend(faults(&browser, checker.as_deref(), &name_here).await);
                    browser.shot(&picture(name, width, dark)).await;
                }
            }
        }
        assert!(all.is_empty(), "{}", all.join("\n"));
        browser
    });
}

#[test]
fn every_sheet_goes_on_paper() {
    journey(|kitchen, browser| async move {
        for (name, address) in pages(&kitchen) {
            browser.goto(&address).await;
            for (paper, size) in [("A4", (8.27, 11.69)), ("Letter", (8.5, 11.0))] {
                let file = folder().join("paper").join(format!("{name}-{paper}.pdf"));
                assert!(
                    browser.print(&file, size).await > BLANK,
                    "{name} on {paper} is empty"
                );
            }
        }
        browser
    });
}
