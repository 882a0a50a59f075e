import { describe, expect, it } from 'vitest';
import { CATALOGUE_TABLES, CATALOGUE_VIEWS, viewText } from '../../../lib/archive/catalogue.ts';
import { VIEWS } from '../../../lib/archive/views.ts';

/** "Escape reserved keywords in queries", Amazon Athena user guide: those of DDL and those of SELECT. */
const RESERVED = new Set(
  `ALL ALTER AND ARRAY AS AUTHORIZATION BETWEEN BIGINT BINARY BOOLEAN BOTH BY CASE CASHE CAST CHAR COLUMN CONF CONSTRAINT
  COMMIT CREATE CROSS CUBE CURRENT CURRENT_DATE CURRENT_TIMESTAMP CURSOR DATABASE DATE DAYOFWEEK DECIMAL DELETE DESCRIBE
  DISTINCT DIV DOUBLE DROP ELSE END EXCHANGE EXISTS EXTENDED EXTERNAL EXTRACT FALSE FETCH FLOAT FLOOR FOLLOWING FOR FOREIGN
  FROM FULL FUNCTION GRANT GROUP GROUPING HAVING IF IMPORT IN INNER INSERT INT INTEGER INTERSECT INTERVAL INTO IS JOIN
  LATERAL LEFT LESS LIKE LOCAL MACRO MAP MORE NONE NOT NULL NUMERIC OF ON ONLY OR ORDER OUT OUTER OVER PARTIALSCAN PARTITION
  PERCENT PRECEDING PRECISION PRESERVE PRIMARY PROCEDURE RANGE READS REDUCE REGEXP REFERENCES REVOKE RIGHT RLIKE ROLLBACK
  ROLLUP ROW ROWS SELECT SET SMALLINT START TABLE TABLESAMPLE THEN TIME TIMESTAMP TO TRANSFORM TRIGGER TRUE TRUNCATE
  UNBOUNDED UNION UNIQUEJOIN UPDATE USER USING UTC_TIMESTAMP VALUES VARCHAR VIEWS WHEN WHERE WINDOW WITH
  CURRENT_CATALOG CURRENT_PATH CURRENT_ROLE CURRENT_SCHEMA CURRENT_TIME CURRENT_USER DEALLOCATE ESCAPE EXCEPT EXECUTE
  JSON_ARRAY JSON_EXISTS JSON_OBJECT JSON_QUERY JSON_TABLE JSON_VALUE LISTAGG LOCALTIME LOCALTIMESTAMP NATURAL NORMALIZE
  PREPARE RECURSIVE SKIP TRIM UESCAPE UNNEST`
    .toLowerCase()
    .split(/\s+/),
);

/**
 * Functions that mean the same in both: "Window functions", "Aggregate functions" and "Comparison functions and operators"
 * and "Conditional expressions" (trino.io/docs), "Window Functions", "Aggregate Functions" and "Utility Functions" (duckdb.org/docs).
 */
const SHARED_FUNCTIONS = ['cast', 'coalesce', 'first_value', 'greatest', 'row_number', 'sum'];

describe('the catalogue', () => {
  it('gives tables and columns no name that Athena takes for its own', () => {
    const all = [...CATALOGUE_TABLES, ...CATALOGUE_VIEWS];
    const names = all.flatMap(({ name, columns }) => [name, ...columns.map((column) => column.name)]);
    expect(names.length).toBeGreaterThan(100);
    expect(names.filter((name) => RESERVED.has(name) || !/^[a-z][a-z_]*$/.test(name))).toEqual([]);
    for (const { name, columns } of all) {
      expect(new Set(columns.map((column) => column.name)).size, name).toBe(columns.length);
    }
    // AWS Glue web API reference, "Column": a comment has at most 255 characters.
    const comments = all.flatMap(({ columns }) => columns.map(({ comment }) => comment));
    expect(comments.filter((comment) => comment.length > 255)).toEqual([]);
  });

  it('asks of both dialects only what both document', () => {
    for (const { name, sql } of VIEWS) {
      const functions = [...sql.matchAll(/([a-z_]+)\(/g)].map(([, called = '']) => called);
      expect(
        functions.filter((called) => !SHARED_FUNCTIONS.includes(called)),
        name,
      ).toEqual([]);
    }
  });

  it('has the text of a view as Athena reads it', () => {
    for (const { name, columns } of CATALOGUE_VIEWS) {
      const [, base64 = ''] =
        /^\/\* Presto View: ([A-Za-z0-9+/=]+) \*\/$/.exec(viewText(name, 'brinebell_x')) ?? [];
      const view = JSON.parse(Buffer.from(base64, 'base64').toString('utf8'));
      expect(view).toMatchObject({ catalog: 'awsdatacatalog', schema: 'brinebell_x' });
      expect(view.originalSql).toBe(VIEWS.find((each) => each.name === name)?.sql);
      // Hive's text is Trino's varchar, and its int an integer.
      const hive: Record<string, string> = { varchar: 'string', integer: 'int', 'timestamp(3)': 'timestamp' };
      expect(
        view.columns.map(
          (column: { name: string; type: string }) => `${column.name} ${hive[column.type] ?? column.type}`,
        ),
      ).toEqual(columns.map((column) => `${column.name} ${column.type}`));
    }
    expect(() => viewText('nosuch', 'x')).toThrow(RangeError);
  });
});
