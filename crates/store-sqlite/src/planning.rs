//! Plans: opaque texts by hash, and which one is current.

use jiff::civil::{Date, DateTime};
use larderwright_store::rules::{check_plan, known_plan};
use larderwright_store::{Choice, Doing, PlanHead, PlanRow, StoreError};
use sqlx::sqlite::SqliteRow;
use sqlx::{Row, SqliteConnection};

use crate::SqliteStore;
use crate::fault::{broken, fault};
use crate::rows::{choice_sum, head_sum};

const DOING: Doing = Doing::Planning;

pub(crate) async fn save_plan(store: &SqliteStore, plan: &PlanRow) -> Result<(), StoreError> {
    check_plan(plan)?;
    let mut transaction = store.begin_write(DOING).await?;
    let head = &plan.head;
    sqlx::query("INSERT INTO snapshot (hash, record) VALUES (?1, ?2) ON CONFLICT DO NOTHING")
        .bind(&head.snapshot_hash)
        .bind(&plan.snapshot_json)
        .execute(&mut *transaction)
        .await
        .map_err(fault(DOING))?;
    let sql = "INSERT INTO plan (hash, parent, snapshot_hash, monday, made_at, record, head_sum) \
               VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7) ON CONFLICT (hash) DO NOTHING";
    sqlx::query(sql)
        .bind(&head.hash)
        .bind(&head.parent)
        .bind(&head.snapshot_hash)
        .bind(head.monday.to_string())
        .bind(head.made_at.to_string())
        .bind(&plan.plan_json)
        .bind(head_sum(head))
        .execute(&mut *transaction)
        .await
        .map_err(fault(DOING))?;
    transaction.commit().await.map_err(fault(DOING))
}

pub(crate) async fn plan(store: &SqliteStore, hash: &str) -> Result<Option<PlanRow>, StoreError> {
    let sql = "SELECT plan.*, snapshot.record AS snapshot_record FROM plan \
               JOIN snapshot ON snapshot.hash = plan.snapshot_hash WHERE plan.hash = ?1";
    let row = sqlx::query(sql)
        .bind(hash)
        .fetch_optional(&store.readers)
        .await
        .map_err(fault(DOING))?;
    let Some(row) = row else { return Ok(None) };
    let plan = PlanRow {
        head: read_head(&row)?,
        plan_json: row.try_get("record").map_err(fault(DOING))?,
        snapshot_json: row.try_get("snapshot_record").map_err(fault(DOING))?,
    };
    // It was checked when it was kept; what is wrong now the disk has done.
    match check_plan(&plan) {
        Ok(()) => Ok(Some(plan)),
        Err(error) => Err(broken(DOING, &error.fault.message())),
    }
}

pub(crate) async fn plans(store: &SqliteStore, monday: Date) -> Result<Vec<PlanHead>, StoreError> {
    let sql = "SELECT hash, parent, snapshot_hash, monday, made_at, head_sum FROM plan WHERE monday = ?1 ORDER BY seq";
    let rows = sqlx::query(sql)
        .bind(monday.to_string())
        .fetch_all(&store.readers)
        .await
        .map_err(fault(DOING))?;
    rows.iter().map(read_head).collect()
}

pub(crate) async fn weeks(store: &SqliteStore) -> Result<Vec<Date>, StoreError> {
    let weeks: Vec<String> = sqlx::query_scalar("SELECT DISTINCT monday FROM plan")
        .fetch_all(&store.readers)
        .await
        .map_err(fault(DOING))?;
    let weeks: Result<Vec<Date>, StoreError> = weeks.iter().map(|text| read_date(text)).collect();
    weeks.map(|mut weeks| {
        weeks.sort_unstable();
        weeks
    })
}

pub(crate) async fn current(store: &SqliteStore, monday: Date) -> Result<Option<PlanHead>, StoreError> {
    let mut transaction = store.begin_read(DOING).await?;
    match last_choice(&mut transaction, monday).await? {
        Some(hash) => head(&mut transaction, &hash).await,
        None => Ok(None),
    }
}

pub(crate) async fn choose(store: &SqliteStore, monday: Date, hash: &str) -> Result<Choice, StoreError> {
    let mut transaction = store.begin_write(DOING).await?;
    let head = head(&mut transaction, hash).await?;
    let head = known_plan(head, monday, hash)?;
    let current = last_choice(&mut transaction, monday).await?;
    if current.as_ref() == Some(&head.hash) {
        return Ok(Choice::Chosen);
    }
    if current != head.parent {
        return Ok(Choice::Overtaken { current });
    }
    sqlx::query("INSERT INTO choice (monday, hash, sum) VALUES (?1, ?2, ?3)")
        .bind(monday.to_string())
        .bind(hash)
        .bind(choice_sum(&monday.to_string(), hash))
        .execute(&mut *transaction)
        .await
        .map_err(fault(DOING))?;
    transaction.commit().await.map_err(fault(DOING))?;
    Ok(Choice::Chosen)
}

pub(crate) async fn choices(store: &SqliteStore, monday: Date) -> Result<Vec<String>, StoreError> {
    let rows = sqlx::query("SELECT monday, hash, sum FROM choice WHERE monday = ?1 ORDER BY seq")
        .bind(monday.to_string())
        .fetch_all(&store.readers)
        .await
        .map_err(fault(DOING))?;
    rows.iter().map(read_choice).collect()
}

pub(crate) fn read_choice(row: &SqliteRow) -> Result<String, StoreError> {
    let text = |column: &str| row.try_get::<String, _>(column).map_err(fault(DOING));
    let hash = text("hash")?;
    let written: i64 = row.try_get("sum").map_err(fault(DOING))?;
    if written == choice_sum(&text("monday")?, &hash) {
        Ok(hash)
    } else {
        Err(broken(DOING, "a choice is not as it was written"))
    }
}

async fn last_choice(connection: &mut SqliteConnection, monday: Date) -> Result<Option<String>, StoreError> {
    let sql = "SELECT monday, hash, sum FROM choice WHERE monday = ?1 ORDER BY seq DESC LIMIT 1";
    let row = sqlx::query(sql)
        .bind(monday.to_string())
        .fetch_optional(connection)
        .await
        .map_err(fault(DOING))?;
    row.as_ref().map(read_choice).transpose()
}

async fn head(connection: &mut SqliteConnection, hash: &str) -> Result<Option<PlanHead>, StoreError> {
    let row = sqlx::query(
        "SELECT hash, parent, snapshot_hash, monday, made_at, head_sum FROM plan WHERE hash = ?1",
    )
    .bind(hash)
    .fetch_optional(connection)
    .await
    .map_err(fault(DOING))?;
    row.as_ref().map(read_head).transpose()
}

pub(crate) fn read_head(row: &SqliteRow) -> Result<PlanHead, StoreError> {
    let head = head_of(row)?;
    let written: i64 = row.try_get("head_sum").map_err(fault(DOING))?;
    if written == head_sum(&head) {
        Ok(head)
    } else {
        Err(broken(
            DOING,
            "what stands beside a plan is not as it was written",
        ))
    }
}

/// What a plan is called, whether or not it still is what was written.
pub(crate) fn head_of(row: &SqliteRow) -> Result<PlanHead, StoreError> {
    let text = |column: &str| row.try_get::<String, _>(column).map_err(fault(DOING));
    let made_at: DateTime = text("made_at")?
        .parse()
        .map_err(|_| broken(DOING, "the time of a plan is no time"))?;
    Ok(PlanHead {
        hash: text("hash")?,
        parent: row.try_get("parent").map_err(fault(DOING))?,
        snapshot_hash: text("snapshot_hash")?,
        monday: read_date(&text("monday")?)?,
        made_at,
    })
}

fn read_date(text: &str) -> Result<Date, StoreError> {
    text.parse()
        .map_err(|_| broken(DOING, "the week of a plan is no date"))
}
