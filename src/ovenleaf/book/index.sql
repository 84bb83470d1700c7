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

-- begin answers
CREATE TABLE IF NOT EXISTS answer (
  question TEXT PRIMARY KEY,  -- what was typed, where, and by which program it was answered
  state    TEXT NOT NULL,     -- which the book was in
  code     INTEGER NOT NULL,  -- of the command's end
  text     TEXT NOT NULL,
  seal     TEXT NOT NULL      -- over all of it: a disk or a program may have spoiled it
) STRICT;

-- answer
SELECT code, text, seal FROM answer WHERE question = ? AND state = ?;

-- keep answer
INSERT OR REPLACE INTO answer (question, state, code, text, seal) VALUES (?, ?, ?, ?, ?);

-- forget old answers
DELETE FROM answer WHERE rowid <= (SELECT max(rowid) FROM answer) - 64;
