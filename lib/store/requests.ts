import type { AttributeValue, QueryCommandInput, UpdateItemCommandInput } from '@aws-sdk/client-dynamodb';
import { marshall, unmarshall } from '@aws-sdk/util-dynamodb';
import type { Attributes, Item } from './item.ts';
import { INDEX } from './table.ts';

type Values = Record<string, AttributeValue>;

/** What a write is done under; names in it are those of attributes. */
export interface Condition {
  readonly expression: string;
  readonly values?: Readonly<Record<string, string | number>>;
}

/** Items of one partition, of the table or of its index, in the order of their sort keys. */
export interface Range {
  readonly partition: string;
  readonly prefix?: string;
  /** Sort keys from the first to the last, both in it. */
  readonly between?: readonly [string, string];
  /** Whether it is a partition of the index. */
  readonly listed?: boolean;
  readonly descending?: boolean;
  /** Whether a read that may be a moment behind will not do; an index has no other. */
  readonly fresh?: boolean;
}

/** Attributes to be set, or removed where they are null. */
export type Changes = { readonly [Name in keyof Attributes]: Attributes[Name] | null };

export function attributesOf(item: Item): Values {
  return marshall(item, { removeUndefinedValues: true });
}

/** What only we have written has the attributes that we know. */
export function itemOf(attributes: Values): Item {
  const { pk, sk, ...others } = unmarshall(attributes);
  return { pk, sk, ...others };
}

export function conditionOf(condition: Condition | undefined) {
  if (!condition) return {};
  const { expression, values } = condition;
  return {
    ConditionExpression: expression,
    ...(values ? { ExpressionAttributeValues: marshall(values) } : {}),
  };
}

/** The attributes go by aliases, since some of their names are words of DynamoDB's own. */
export function updateOf(
  changes: Changes,
  condition: Condition | undefined,
): Partial<UpdateItemCommandInput> {
  const entries = Object.entries(changes);
  const set = entries.filter(([, value]) => value !== null);
  const removed = entries.filter(([, value]) => value === null);
  const values = {
    ...marshall(condition?.values ?? {}),
    ...marshall(Object.fromEntries(set.map(([name, value]) => [`:${name}`, value]))),
  };
  const clauses = [
    ...(set.length > 0 ? [`SET ${set.map(([name]) => `#${name} = :${name}`).join(', ')}`] : []),
    ...(removed.length > 0 ? [`REMOVE ${removed.map(([name]) => `#${name}`).join(', ')}`] : []),
  ];
  return {
    ...(condition ? { ConditionExpression: condition.expression } : {}),
    UpdateExpression: clauses.join(' '),
    ExpressionAttributeNames: Object.fromEntries(entries.map(([name]) => [`#${name}`, name])),
    ...(Object.keys(values).length > 0 ? { ExpressionAttributeValues: values } : {}),
  };
}

export function queryOf({
  partition,
  prefix,
  between,
  listed,
  descending,
  fresh,
}: Range): Partial<QueryCommandInput> {
  const [pk, sk] = listed ? ['lpk', 'lsk'] : ['pk', 'sk'];
  const [first, last] = between ?? [];
  const within = [
    `${pk} = :partition`,
    ...(prefix === undefined ? [] : [`begins_with(${sk}, :prefix)`]),
    ...(between === undefined ? [] : [`${sk} BETWEEN :first AND :last`]),
  ];
  return {
    ScanIndexForward: !descending,
    ...(listed ? { IndexName: INDEX } : { ConsistentRead: fresh }),
    KeyConditionExpression: within.join(' AND '),
    ExpressionAttributeValues: marshall(
      { ':partition': partition, ':prefix': prefix, ':first': first, ':last': last },
      { removeUndefinedValues: true },
    ),
  };
}
