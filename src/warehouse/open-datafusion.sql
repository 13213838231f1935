-- Opens the data set in DataFusion. Start datafusion-cli in the folder where this file is:
--   datafusion-cli -f open-datafusion.sql -f marks.sql
CREATE EXTERNAL TABLE answers STORED AS PARQUET
  PARTITIONED BY (academic_year, year_group) LOCATION 'marks/';
CREATE EXTERNAL TABLE findings STORED AS PARQUET LOCATION 'marks/_beside/findings.parquet';
CREATE EXTERNAL TABLE told STORED AS PARQUET LOCATION 'marks/_beside/told.parquet';
