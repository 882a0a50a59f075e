/**
 * What the rule selects of a message: the payload in base64, since it may be no JSON and is kept to the letter; and what the
 * broker knows of its sender, which no payload can say. `functions/ingestForms.ts` reads it.
 *
 * Source: AWS IoT Core, Developer Guide, "Functions" (clientid, principal, topic, timestamp, encode), "Working with binary
 * payloads" (functions alone beside `encode(*, ...)`), "SQL versions" (encode is of 2016-03-23).
 */
export const METER_RULE = {
  sql: `SELECT ${[
    "encode(*, 'base64') AS data",
    'clientid() AS thing',
    'principal() AS principal',
    'topic(2) AS unitId',
    'timestamp() AS receivedAt',
  ].join(', ')} FROM 'units/+/events'`,
  awsIotSqlVersion: '2016-03-23',
} as const;
