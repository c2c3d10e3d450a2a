-- Sums over what stands beside the records: a damaged disk must not move a plan to another week either. They are filled
-- in by the program, in the same transaction (see `rows.rs`).

-- Over the clock in force, the clock it came with, and the time of arrival.
ALTER TABLE event ADD COLUMN arrival_sum INTEGER NOT NULL DEFAULT 0;
CREATE TRIGGER event_arrival_is_never_changed
BEFORE UPDATE OF arrival_sum ON event WHEN old.arrival_sum <> 0
BEGIN
    SELECT RAISE (ABORT, 'an event is never changed');
END;

-- Over everything but the record, which has its own hash.
ALTER TABLE plan ADD COLUMN head_sum INTEGER NOT NULL DEFAULT 0;
ALTER TABLE choice ADD COLUMN sum INTEGER NOT NULL DEFAULT 0;
ALTER TABLE own ADD COLUMN sum INTEGER NOT NULL DEFAULT 0;
-- From now on `document.sum` is the sum of name, version and record.

-- The events of some kinds since a date.
DROP INDEX event_by_kind;
CREATE INDEX event_by_kind ON event (kind, day);

PRAGMA user_version = 2;
