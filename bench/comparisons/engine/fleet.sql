-- What an analyst can ask of a fleet's events in SQL: the events that stand, the ledger of each bed day by day, alerts by
-- threshold, and salt by region and month. The file is read once, typed; from there on all is tables in memory.
--
-- Given as variables: `events`, the path of the NDJSON, and `registry`, that of units.json. What comes out is written to
-- the folder in which it runs. Volumes become US gallons, masses pounds, hardness grains a gallon as CaCO3.

create macro gallons_of(q) as case q.unit
  when '[gal_us]' then q.value when 'L' then q.value / 3.785411784 when 'm3' then q.value * 264.1720523581484 end;
create macro lb_of(q) as case q.unit when '[lb_av]' then q.value when 'kg' then q.value / 0.45359237 end;
-- 17.118 mg/L is a grain a US gallon, and a mmol/L of calcium and magnesium is 100.09 mg/L as CaCO3.
create macro gpg_of(q) as case q.unit
  when '[gr]/[gal_us]' then q.value when 'mg/L' then q.value / 17.118 when 'mmol/L' then q.value * 100.09 / 17.118 end;
-- What a cubic foot of resin holds after a dose of so many lb: straight lines between the published points.
create macro grains_of(lb_a_cubic_foot) as case
  when lb_a_cubic_foot <= 6 then lb_a_cubic_foot * 20000 / 6
  when lb_a_cubic_foot <= 8 then 20000 + (lb_a_cubic_foot - 6) * 1500
  when lb_a_cubic_foot <= 10 then 23000 + (lb_a_cubic_foot - 8) * 1250
  when lb_a_cubic_foot <= 15 then 25500 + (lb_a_cubic_foot - 10) * 900
  when lb_a_cubic_foot <= 20 then 30000 + (lb_a_cubic_foot - 15) * 500
  else 32500 end;

-- The units, their hardness with the usual allowance of 4 gpg for each mg/L of iron.
create temp table units as
select
  unitId as unit_id, companyId as company_id, region, timeZone as zone, arrangement = 'alternating' as alternating,
  resin.value as cubic_feet, lb_of(saltDose) as dose_lb,
  gpg_of(hardness) + 4 * coalesce(iron.value, 0) as compensated_gpg
from read_json(getvariable('registry'), columns = {
  unitId: 'VARCHAR', companyId: 'VARCHAR', region: 'VARCHAR', timeZone: 'VARCHAR', arrangement: 'VARCHAR',
  resin: 'STRUCT(value DOUBLE)', saltDose: 'STRUCT(value DOUBLE, unit VARCHAR)',
  hardness: 'STRUCT(value DOUBLE, unit VARCHAR)', iron: 'STRUCT(value DOUBLE)'
});

-- Every line that is an event of a unit on record and has what its type needs. read_ndjson with columns is no faster, and
-- loses the good line after one that is cut short behind a colon (seen with DuckDB 1.5.6).
create temp table events as
select
  unit_id, id, type, time, coalesce(recordedtime, time) as known, date, gallons, data.trigger as trigger,
  lb_of(data.saltDose) as dose_lb
from (
  select
    split_part(event.source, '/', 3) as company_id, split_part(event.source, '/', 5) as unit_id, unnest(event),
    try_cast(event.data.date as date) as date, gallons_of(event.data.volume) as gallons
  from (
    select json_transform(json, '{
      "id": "VARCHAR", "source": "VARCHAR", "type": "VARCHAR", "time": "TIMESTAMP", "recordedtime": "TIMESTAMP",
      "data": {
        "date": "VARCHAR", "volume": { "value": "DOUBLE", "unit": "VARCHAR" }, "trigger": "VARCHAR",
        "saltDose": { "value": "DOUBLE", "unit": "VARCHAR" }, "mass": { "value": "DOUBLE", "unit": "VARCHAR" },
        "hardness": { "value": "DOUBLE", "unit": "VARCHAR" }, "lostAt": "VARCHAR", "technician": "VARCHAR", "from": "VARCHAR"
      }
    }') as event
    from read_ndjson_objects(getvariable('events'), ignore_errors = true)
  )
)
semi join units using (company_id, unit_id)
where case type
  when 'brinebell.flow-day.v1' then date is not null and gallons >= 0
  when 'brinebell.regeneration.v1' then trigger is not null
  when 'brinebell.settings.v1' then gpg_of(data.hardness) is not null
  when 'brinebell.salt-level.v1' then lb_of(data.mass) is not null
  when 'brinebell.power.v1' then data.lostAt is not null
  when 'brinebell.service-visit.v1' then data.technician is not null
  when 'brinebell.away.v1' then data."from" is not null
  when 'brinebell.at-home.v1' then data."from" is not null
  else false end;

-- Of the copies of one id the one that was known first stands.
create temp table standing as
from events qualify row_number() over (partition by unit_id, id order by known) = 1;

-- Of the flow days of one unit and date the one with the later time stands, then the greater id.
create temp table days as
select unit_id, date, gallons from standing where type = 'brinebell.flow-day.v1'
qualify row_number() over (partition by unit_id, date order by time desc, id desc) = 1;

-- Regenerations by the local date on which they began, with the dose that was set before, or that of the registry.
create temp table regenerations as
select r.unit_id, cast(timezone(zone, timezone('UTC', r.time)) as date) as date, coalesce(s.dose_lb, u.dose_lb) as dose_lb
from (from standing where type = 'brinebell.regeneration.v1') r
join units u using (unit_id)
asof left join (from standing where type = 'brinebell.settings.v1' and dose_lb > 0) s
  on r.unit_id = s.unit_id and r.time >= s.time;

-- The ledger: what was treated since the last regeneration, what that took out of the bed and what is left, beside the mean
-- of seven days that a control holds back as its reserve; one of two alternating beds holds none back. The day of a
-- regeneration, which comes before dawn as a rule, belongs to the new cycle.
create temp table ledger as
with cycles as (
  select d.unit_id, d.date, d.gallons, r.date as regenerated, coalesce(r.dose_lb, u.dose_lb) as dose_lb
  from days d
  join units u using (unit_id)
  asof left join (select unit_id, date, max(dose_lb) as dose_lb from regenerations group by all) r
    on d.unit_id = r.unit_id and d.date >= r.date
),
sums as (
  select *,
    avg(gallons) over week as seven_day_mean,
    sum(gallons) over (partition by unit_id, regenerated order by date) as gallons_since
  from cycles
  window week as (partition by unit_id order by date range between interval 6 days preceding and current row)
)
select
  unit_id, date, gallons, seven_day_mean, regenerated, gallons_since,
  gallons_since * compensated_gpg as grains_since,
  cubic_feet * grains_of(s.dose_lb / cubic_feet) / compensated_gpg - gallons_since as remaining_gallons,
  if(alternating, 0, seven_day_mean) as reserve_gallons
from sums s join units using (unit_id);

-- Alerts by threshold, one row an episode: days on end on which a condition holds.
create temp table alerts as
with conditions as (
  -- The control should have regenerated the next morning and did not.
  select 'missed-regeneration' as kind, l.unit_id, l.date
  from ledger l anti join regenerations r on r.unit_id = l.unit_id and r.date = l.date + 1
  where remaining_gallons <= reserve_gallons
  union all
  -- More was treated than the bed can take.
  select 'overrun', unit_id, date from ledger where remaining_gallons < 0
  union all
  select 'no-flow', unit_id, date from days where gallons = 0
),
runs as (
  select *, date - cast(row_number() over (partition by kind, unit_id order by date) as integer) as run from conditions
)
select kind, unit_id, min(date) as "from", max(date) as "to", count(*) as days
from runs group by kind, unit_id, run
-- Nothing drawn for three days in a row may be a meter that stands still; for one or two it is a weekend.
having kind <> 'no-flow' or count(*) >= 3;

-- Salt by region and month, by the doses of the regenerations.
create temp table salt as
with water as (
  select region, strftime(date, '%Y-%m') as month, count(*) as unit_days, sum(gallons) as water_treated_gal
  from days join units using (unit_id) group by all
),
doses as (
  select region, strftime(date, '%Y-%m') as month, count(*) as regenerations, sum(r.dose_lb) as salt_used_lb
  from regenerations r join units using (unit_id) group by all
)
select region, month, coalesce(unit_days, 0) as unit_days, coalesce(water_treated_gal, 0) as water_treated_gal,
  coalesce(regenerations, 0) as regenerations, coalesce(salt_used_lb, 0) as salt_used_lb
from water full join doses using (region, month);

copy (from ledger order by unit_id, date) to 'ledger.parquet';
copy (from alerts order by "from", unit_id) to 'alerts.csv';
copy (from salt order by region, month) to 'salt.csv';
copy (
  select
    (select count(*) from standing) as accepted,
    (select count(*) from events) - (select count(*) from standing) as duplicate,
    (select count(*) from days) as days
) to 'counts.csv';
