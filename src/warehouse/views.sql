-- Views over a data set of marks: they give the review's own figures.
--
-- For the school's or trust's own warehouse only. `answers` is about single pupils, and
-- the views named `all_...` tell of groups of any size. Only the views named
-- `reported_...` hold back what the review holds back; nothing else is to be shown on.
--
-- `answers`   one row an answer that counts; `pupil` is a number within this data set
--             and `keep_until` the last day on which it may be kept
-- `findings`  what a pupil's answers are consistent with, found by the program: a query
--             cannot say it. `year` is empty for all years together
-- `told`      what the review tells of each row of its tables, decided over the whole
--             run: `in full`, `counts only` (5 to 9 pupils), `count` or `nothing`; and
--             whether it tells the answers by what became of them
--
-- A facility is `earned` of `available`, over answers attempted or left blank. A pupil
-- counts where at least one answer was handed in: neither absent nor excused.
-- Open the tables first (open-duckdb.sql, open-datafusion.sql).

CREATE VIEW counted AS
SELECT answers.*,
  bank || ': ' || template || CASE WHEN part = '' THEN '' ELSE ', part ' || part END AS asked,
  CASE WHEN state IN ('absent', 'excused') THEN 0 ELSE 1 END AS handed_in,
  CASE WHEN state IN ('not reached', 'absent', 'excused') THEN 0 ELSE 1 END AS counts
FROM answers;

-- Every answer once for each table of the review that it stands in.
CREATE VIEW placed AS
SELECT 'whole' AS in_table, 'All' AS in_row, '' AS within, pupil, state, handed_in, counts, marks, out_of FROM counted
UNION ALL
SELECT 'years', year, '', pupil, state, handed_in, counts, marks, out_of FROM counted
UNION ALL
SELECT 'classes', class, '', pupil, state, handed_in, counts, marks, out_of FROM counted
UNION ALL
SELECT 'skills', skill, '', pupil, state, handed_in, counts, marks, out_of FROM counted
UNION ALL
SELECT 'levels', 'Level ' || CAST(level AS VARCHAR), '', pupil, state, handed_in, counts, marks, out_of FROM counted
UNION ALL
SELECT 'questions', asked, skill, pupil, state, handed_in, counts, marks, out_of FROM counted
UNION ALL
SELECT 'skills by year', skill, year, pupil, state, handed_in, counts, marks, out_of FROM counted
UNION ALL
SELECT 'skills by class', skill, class, pupil, state, handed_in, counts, marks, out_of FROM counted
UNION ALL
SELECT 'terms', asked_when, '', pupil, state, handed_in, counts, marks, out_of FROM counted
UNION ALL
SELECT 'school years', coalesce(school_year, 'outside the calendar''s terms'), '', pupil, state, handed_in, counts, marks, out_of FROM counted;

CREATE VIEW all_figures AS
SELECT in_table, in_row, within,
  count(DISTINCT CASE WHEN handed_in = 1 THEN pupil END) AS pupils,
  sum(CASE WHEN state = 'correct' THEN 1 ELSE 0 END) AS correct,
  sum(CASE WHEN state = 'partly' THEN 1 ELSE 0 END) AS partly,
  sum(CASE WHEN state = 'wrong' THEN 1 ELSE 0 END) AS wrong,
  sum(CASE WHEN state = 'blank' THEN 1 ELSE 0 END) AS blank,
  sum(CASE WHEN state = 'not reached' THEN 1 ELSE 0 END) AS not_reached,
  sum(CASE WHEN state = 'unreadable' THEN 1 ELSE 0 END) AS unreadable,
  sum(CASE WHEN state = 'absent' THEN 1 ELSE 0 END) AS absent,
  sum(CASE WHEN state = 'excused' THEN 1 ELSE 0 END) AS excused,
  sum(marks * counts) AS earned,
  sum(out_of * counts) AS available
FROM placed
GROUP BY in_table, in_row, within;

-- What the review tells, and no more. The percentage is rounded, a half up.
CREATE VIEW reported_figures AS
SELECT f.in_table, f.in_row, f.within, t.about, t.told, t.why,
  CASE WHEN t.told <> 'nothing' THEN f.pupils END AS pupils,
  CASE WHEN t.told <> 'nothing' THEN f.earned END AS earned,
  CASE WHEN t.told <> 'nothing' THEN f.available END AS available,
  CASE WHEN t.told = 'in full' AND f.available > 0
    THEN CAST(floor((200.0 * f.earned + f.available) / (2.0 * f.available)) AS BIGINT) END AS percent,
  CASE WHEN t.answers_told THEN f.correct END AS correct,
  CASE WHEN t.answers_told THEN f.partly END AS partly,
  CASE WHEN t.answers_told THEN f.wrong END AS wrong,
  CASE WHEN t.answers_told THEN f.blank END AS blank,
  CASE WHEN t.answers_told THEN f.not_reached END AS not_reached,
  CASE WHEN t.answers_told THEN f.unreadable END AS unreadable,
  CASE WHEN t.answers_told THEN f.absent END AS absent,
  CASE WHEN t.answers_told THEN f.excused END AS excused
FROM all_figures f
JOIN told t ON t.in_table = f.in_table AND t.in_row = f.in_row AND t.within = f.within;

CREATE VIEW reported_years AS SELECT * FROM reported_figures WHERE in_table = 'years';
CREATE VIEW reported_skills AS SELECT * FROM reported_figures WHERE in_table = 'skills';
CREATE VIEW reported_questions AS SELECT * FROM reported_figures WHERE in_table = 'questions';

CREATE VIEW reported_skills_by_year AS
SELECT in_row AS skill, within AS year, told, why, pupils, earned, available, percent
FROM reported_figures
WHERE in_table = 'skills by year';

-- Each year's part is what a review of that year's marks alone gives.
CREATE VIEW all_skills_by_year AS
SELECT in_row AS skill, within AS year, pupils, earned, available
FROM all_figures
WHERE in_table = 'skills by year';

-- Pupils with two answers or more that are consistent with a misconception, as far as
-- no other explains more of them; and with one answer only.
CREATE VIEW all_misconceptions AS
SELECT misconception,
  sum(CASE WHEN again THEN 1 ELSE 0 END) AS again,
  sum(CASE WHEN answers = 1 THEN 1 ELSE 0 END) AS once
FROM findings
WHERE year IS NULL
GROUP BY misconception;

CREATE VIEW all_misconceptions_by_year AS
SELECT misconception, year, sum(CASE WHEN again THEN 1 ELSE 0 END) AS again
FROM findings
WHERE year IS NOT NULL
GROUP BY misconception, year;

CREATE VIEW reported_misconceptions AS
SELECT m.misconception,
  CASE WHEN a.told <> 'nothing' THEN m.again END AS again, a.why AS why_not_again,
  CASE WHEN o.told <> 'nothing' THEN m.once END AS once, o.why AS why_not_once
FROM all_misconceptions m
JOIN told a ON a.in_table = 'again' AND a.in_row = m.misconception
JOIN told o ON o.in_table = 'once' AND o.in_row = m.misconception;

CREATE VIEW reported_misconceptions_by_year AS
SELECT t.in_row AS misconception, t.within AS year,
  CASE WHEN t.told <> 'nothing' THEN coalesce(m.again, 0) END AS again, t.why
FROM told t
LEFT JOIN all_misconceptions_by_year m ON m.misconception = t.in_row AND m.year = t.within
WHERE t.in_table = 'again by year';

-- How many questions of a skill each year was asked in each term (without a calendar on
-- each day): a question once for each homework and level. It counts no pupil.
CREATE VIEW coverage AS
SELECT skill, asked_when, year, count(*) AS questions
FROM (
  SELECT DISTINCT skill, asked_when, year, set_on, homework, title, level, bank, template, part
  FROM counted
  WHERE handed_in = 1
) AS asked_once
GROUP BY skill, asked_when, year;
