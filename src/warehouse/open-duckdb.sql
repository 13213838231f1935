-- Opens the data set in DuckDB. Start it in the folder where this file is, then:
--   .read open-duckdb.sql
--   .read marks.sql
CREATE OR REPLACE VIEW answers AS
  SELECT * FROM read_parquet('marks/academic_year=*/year_group=*/*.parquet',
    hive_partitioning = true,
    hive_types = {'academic_year': VARCHAR, 'year_group': VARCHAR});
CREATE OR REPLACE VIEW findings AS SELECT * FROM read_parquet('marks/_beside/findings.parquet');
CREATE OR REPLACE VIEW told AS SELECT * FROM read_parquet('marks/_beside/told.parquet');
