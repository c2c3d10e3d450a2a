//! The week as it goes on.

use jiff::Span;
use larderwright_app::changes::Changes;
use larderwright_e2e::Kitchen;

use crate::get;

#[tokio::test]
async fn a_week_planned_anew_in_its_middle_still_shows_what_came_before() {
    let kitchen = Kitchen::open().await;
    let page = get(&kitchen, "/week").await.text;
    assert!(!page.contains("Earlier this week"));
    let tuesday = kitchen
        .week
        .monday
        .saturating_add(Span::new().days(1))
        .at(22, 0, 0, 0);
    kitchen.set(tuesday);
    let now = kitchen.desk.now().await.expect("the zone is known");
    let home = kitchen.desk.home();
    home.settle(&now).await.expect("it is presumed");
    let search = kitchen.desk.search();
    let draft = home
        .draft(kitchen.week.monday, &Changes::default(), search, &now)
        .await;
    let draft = draft.expect("the rest can be planned");
    home.choose(kitchen.week.monday, &draft.hash)
        .await
        .expect("nothing came between");
    kitchen.desk.changed().await;
    let page = get(&kitchen, "/week").await.text;
    assert!(page.contains("Earlier this week"), "{page}");
    assert!(page.contains("Mon\u{a0}30\u{a0}Nov dinner"), "{page}");
    assert!(page.contains("eaten, as far as anybody knows"));
}
