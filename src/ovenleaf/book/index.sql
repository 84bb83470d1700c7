-- What was read from each page, so that it need not be read again. All of it can be thrown away at any time.

-- begin
CREATE TABLE IF NOT EXISTS page (
  kind   TEXT NOT NULL,  -- of what was read: trials, findings
  reader TEXT NOT NULL,  -- which program read it, and by which lists and schemas
  path   TEXT NOT NULL,
  id     TEXT NOT NULL,  -- of the page's bytes, as git has it
  facts  TEXT NOT NULL,
  PRIMARY KEY (kind, path, id)
) STRICT;

-- known below
SELECT path, id, facts FROM page WHERE kind = ? AND reader = ? AND path >= ? AND path < ?;

-- keep
INSERT OR REPLACE INTO page (kind, reader, path, id, facts) VALUES (?, ?, ?, ?, ?);

-- forget
DELETE FROM page WHERE kind = ? AND path = ? AND id = ?;

-- forget other readers
DELETE FROM page WHERE kind = ? AND reader <> ?;
