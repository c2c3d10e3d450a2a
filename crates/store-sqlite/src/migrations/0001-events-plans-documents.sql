-- What happened: only ever added to. Only `counts` may change, for it is derived from the corrections.
CREATE TABLE event (
    seq INTEGER PRIMARY KEY,
    -- Not unique: two devices may report the same thing under one id; the earlier clock counts.
    id TEXT NOT NULL,
    -- The clock in force, by which events are ordered.
    wall_ms INTEGER NOT NULL,
    count INTEGER NOT NULL,
    device TEXT NOT NULL,
    -- The clock the event came with, where that lay too far ahead and was replaced.
    said_wall_ms INTEGER,
    said_count INTEGER,
    received_ms INTEGER NOT NULL,
    -- The local date as a number: 20261125.
    day INTEGER NOT NULL,
    kind TEXT NOT NULL,
    corrects TEXT,
    counts INTEGER NOT NULL CHECK (counts IN (0, 1)),
    -- The event as it was sent, and the sum of its bytes: a damaged disk must not change what was eaten.
    record TEXT NOT NULL,
    sum INTEGER NOT NULL,
    CHECK ((said_wall_ms IS NULL) = (said_count IS NULL))
) STRICT;
CREATE INDEX event_by_id ON event (id);
CREATE INDEX event_by_clock ON event (wall_ms, count, device, id);
CREATE INDEX event_by_day ON event (day);
CREATE INDEX event_by_kind ON event (kind);
CREATE INDEX event_by_corrected ON event (corrects) WHERE corrects IS NOT NULL;

CREATE TRIGGER event_is_never_changed
BEFORE UPDATE OF seq, id, wall_ms, count, device, said_wall_ms, said_count, received_ms, day, kind, corrects, record, sum ON event
BEGIN
    SELECT RAISE (ABORT, 'an event is never changed');
END;
CREATE TRIGGER event_is_never_taken_out
BEFORE DELETE ON event
BEGIN
    SELECT RAISE (ABORT, 'an event is never taken out');
END;

-- What each event is about.
CREATE TABLE event_subject (
    kind TEXT NOT NULL,
    key TEXT NOT NULL,
    seq INTEGER NOT NULL REFERENCES event (seq),
    PRIMARY KEY (kind, key, seq)
) STRICT, WITHOUT ROWID;

-- Folds: derived from the events that count, in the same transaction.
CREATE TABLE fold_lot (
    lot TEXT PRIMARY KEY,
    open INTEGER NOT NULL CHECK (open IN (0, 1)),
    record TEXT NOT NULL,
    sum INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX fold_lot_open ON fold_lot (lot) WHERE open = 1;
CREATE TABLE fold_tick (
    food TEXT PRIMARY KEY,
    record TEXT NOT NULL,
    sum INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

-- Snapshots and plans: opaque texts under the hashes that stand in them.
CREATE TABLE snapshot (
    hash TEXT PRIMARY KEY,
    record TEXT NOT NULL
) STRICT, WITHOUT ROWID;
CREATE TABLE plan (
    seq INTEGER PRIMARY KEY,
    hash TEXT NOT NULL UNIQUE,
    parent TEXT,
    snapshot_hash TEXT NOT NULL REFERENCES snapshot (hash),
    -- Dates as texts: 2026-11-30, 2026-11-25T20:00:00.
    monday TEXT NOT NULL,
    made_at TEXT NOT NULL,
    record TEXT NOT NULL
) STRICT;
CREATE INDEX plan_by_week ON plan (monday);

-- Which plan was made the current one of its week; the last one is.
CREATE TABLE choice (
    seq INTEGER PRIMARY KEY,
    monday TEXT NOT NULL,
    hash TEXT NOT NULL REFERENCES plan (hash)
) STRICT;
CREATE INDEX choice_by_week ON choice (monday, seq);

CREATE TABLE document (
    name TEXT NOT NULL,
    version INTEGER NOT NULL CHECK (version > 0),
    record TEXT NOT NULL,
    sum INTEGER NOT NULL,
    PRIMARY KEY (name, version)
) STRICT, WITHOUT ROWID;

-- One row: which device this is, and the highest stamp given out or seen.
CREATE TABLE own (
    one INTEGER PRIMARY KEY CHECK (one = 1),
    device TEXT,
    wall_ms INTEGER NOT NULL,
    count INTEGER NOT NULL
) STRICT;
INSERT INTO own (one, device, wall_ms, count) VALUES (1, NULL, 0, 0);

PRAGMA application_id = 1279349335;
PRAGMA user_version = 1;
