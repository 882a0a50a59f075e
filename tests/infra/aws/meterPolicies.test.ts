import fc from 'fast-check';
import { expect, test } from 'vitest';
import { claimPolicy, meterPolicy } from '../../../infra/aws/stacks/meterPolicies.ts';
import { topicOf } from '../../../shared/credential.ts';
import { ThingNameError, thingNameOf } from '../../../shared/thingName.ts';
import { allows, type Connection } from '../../support/aws/iotPolicy.ts';
import { anyId } from '../../support/ids.ts';

const arnOf = (resource: string) => `arn:aws:iot:us-east-1:123456789012:${resource}`;
const METER = meterPolicy(arnOf);
const CLAIM = claimPolicy(arnOf, 'brinebell-test');
const ACTIONS = [
  'Connect',
  'Publish',
  'RetainPublish',
  'Receive',
  'Subscribe',
  'GetThingShadow',
  'StartNextPendingJobExecution',
];

interface Unit {
  companyId: string;
  unitId: string;
}

/** A connection with the certificate of a meter, as the broker sees it when it goes by the certificate. */
function connectionOf(unit: Unit, over: Partial<Connection> = {}): Connection {
  return {
    variables: {
      'iot:Connection.Thing.ThingName': thingNameOf(unit),
      'iot:Connection.Thing.IsAttached': 'true',
      'iot:Connection.Thing.Attributes[companyId]': unit.companyId,
      'iot:Connection.Thing.Attributes[unitId]': unit.unitId,
    },
    ...over,
  };
}

/**
 * As the broker sees it when it goes by the client id that is presented, where certificates may have several things: it is the
 * thing of that name, and the certificate is not attached to it.
 */
function impostorOf(victim: Unit): Connection {
  const { variables } = connectionOf(victim);
  return { variables: { ...variables, 'iot:Connection.Thing.IsAttached': 'false' } };
}

const nameable = ({ companyId, unitId }: Unit) => {
  try {
    return thingNameOf({ companyId, unitId }) !== '';
  } catch (error) {
    if (error instanceof ThingNameError) return false;
    throw error;
  }
};

/** Pairs of units: of any ids, and of ids that nearly are each other's. */
const anyUnit = fc.record({ companyId: anyId, unitId: anyId }).filter(nameable);
const near = fc
  .tuple(anyUnit, fc.constantFrom('.', '-', '0', 'a', '.a', '-events'))
  .map(([unit, more]) => [unit, { ...unit, unitId: `${unit.unitId}${more}`.slice(0, 64) }]);
const twins = fc.tuple(anyUnit, anyId).map(([unit, companyId]) => [unit, { ...unit, companyId }]);
const pair = fc
  .oneof(fc.tuple(anyUnit, anyUnit), near, twins)
  .map(([one, other]) => ({ one, other }))
  .filter((both): both is { one: Unit; other: Unit } => {
    const { one, other } = both;
    if (!one || !other || !nameable(other)) return false;
    return one.companyId !== other.companyId || one.unitId !== other.unitId;
  });

/** What a client may ask for beside names and topics that exist: wildcards of MQTT and of policies. */
const odd = fc.string({
  unit: fc.constantFrom('*', '?', '+', '#', '/', '$', '{', '}', ':', '-', '.', 'a', 'units', 'events'),
  maxLength: 12,
});

/** Changes of a text into what might be taken for it. */
const asked = (text: string) =>
  fc.oneof(
    fc.constant(text),
    odd,
    odd.map((more) => text + more),
    odd.map((more) => more + text),
    fc.nat(text.length).map((at) => `${text.slice(0, at)}*`),
    fc.constantFrom('*', '?', '+', '#').map((wild) => text.replace(/[A-Za-z0-9]/, wild)),
  );

/** Two meters, and what somebody asks for who has one of their names in mind. */
const pairAsking = (nameOf: (unit: Unit) => string) =>
  pair.chain(({ one, other }) =>
    fc.oneof(asked(nameOf(one)), asked(nameOf(other))).map((text) => ({ one, other, text })),
  );

test('a meter connects under its own name and under no other', () => {
  fc.assert(
    fc.property(pairAsking(thingNameOf), ({ one, other, text: clientId }) => {
      const may = allows(METER, connectionOf(one), 'iot:Connect', arnOf(`client/${clientId}`));
      expect(may).toBe(clientId === thingNameOf(one));
      expect(allows(METER, impostorOf(other), 'iot:Connect', arnOf(`client/${thingNameOf(other)}`))).toBe(
        false,
      );
    }),
    { numRuns: 1000 },
  );
});

test('a meter publishes on the topic of its own unit and on no other', () => {
  fc.assert(
    fc.property(
      pairAsking(({ unitId }) => topicOf(unitId)),
      ({ one, text: topic }) => {
        const may = allows(METER, connectionOf(one), 'iot:Publish', arnOf(`topic/${topic}`));
        expect(may).toBe(topic === topicOf(one.unitId));
      },
    ),
    { numRuns: 1000 },
  );
});

test('a meter does nothing but connect and publish, and leaves neither a retained message nor a last will', () => {
  fc.assert(
    fc.property(
      anyUnit,
      fc.constantFrom(...ACTIONS),
      fc.constantFrom('topic/', 'topicfilter/', 'client/', 'thing/'),
      odd,
      (unit, action, kind, text) => {
        const own = [
          topicOf(unit.unitId),
          thingNameOf(unit),
          `$aws/things/${thingNameOf(unit)}/shadow/get`,
          text,
        ];
        for (const resource of own) {
          const isOwn =
            (action === 'Connect' && kind + resource === `client/${thingNameOf(unit)}`) ||
            (action === 'Publish' && kind + resource === `topic/${topicOf(unit.unitId)}`);
          expect(allows(METER, connectionOf(unit), `iot:${action}`, arnOf(kind + resource))).toBe(isOwn);
        }
      },
    ),
    { numRuns: 500 },
  );
  const unit = { companyId: 'acme', unitId: 'u-1' };
  const client = arnOf('client/acme:u-1');
  const connects = (...connectAttributes: string[]) =>
    allows(METER, connectionOf(unit, { connectAttributes }), 'iot:Connect', client);
  expect([connects(), connects('PersistentConnect')]).toEqual([true, true]);
  expect([connects('LastWill'), connects('LastWill', 'PersistentConnect')]).toEqual([false, false]);
});

test('without a thing, as over HTTPS, nothing is allowed', () => {
  const nobody: Connection = { variables: {} };
  for (const topic of [
    'units/u-1/events',
    'units//events',
    `units/\${iot:Connection.Thing.Attributes[unitId]}/events`,
  ]) {
    expect(allows(METER, nobody, 'iot:Publish', arnOf(`topic/${topic}`)), topic).toBe(false);
  }
  expect(allows(METER, nobody, 'iot:Connect', arnOf('client/'))).toBe(false);
});

test('whoever has a claim certificate can claim, and neither take a meter’s name nor publish an event nor listen to others', () => {
  const claimer: Connection = { variables: {} };
  const may = (action: string, resource: string) => allows(CLAIM, claimer, `iot:${action}`, arnOf(resource));
  // The topics of the guide's page "Device provisioning MQTT API", in JSON.
  const asking = [
    '$aws/certificates/create-from-csr/json',
    '$aws/provisioning-templates/brinebell-test/provision/json',
  ];
  for (const topic of asking) {
    expect(may('Publish', `topic/${topic}`)).toBe(true);
    for (const answer of ['accepted', 'rejected']) {
      expect(may('Subscribe', `topicfilter/${topic}/${answer}`)).toBe(true);
      expect(may('Receive', `topic/${topic}/${answer}`)).toBe(true);
      expect(may('Publish', `topic/${topic}/${answer}`)).toBe(false);
    }
  }
  expect(may('Connect', 'client/_claim-7f3a')).toBe(true);
  fc.assert(
    fc.property(anyUnit, fc.constantFrom(...ACTIONS), odd, (unit, action, text) => {
      expect(may('Connect', `client/${thingNameOf(unit)}`)).toBe(false);
      expect(may('Publish', `topic/${topicOf(unit.unitId)}`)).toBe(false);
      for (const kind of ['topic', 'topicfilter']) expect(may(action, `${kind}/${text}`)).toBe(false);
      for (const filter of [
        '$aws/#',
        '$aws/certificates/#',
        '$aws/+/create-from-csr/json/accepted',
        topicOf(unit.unitId),
      ]) {
        expect(may('Subscribe', `topicfilter/${filter}`)).toBe(false);
      }
    }),
    { numRuns: 300 },
  );
  expect(may('Publish', 'topic/$aws/certificates/create/json')).toBe(false);
  expect(may('Publish', 'topic/$aws/provisioning-templates/another/provision/json')).toBe(false);
});

test('a policy of everything would be seen', () => {
  const all = { ...METER, Statement: [{ Effect: 'Allow' as const, Action: ['iot:*'], Resource: ['*'] }] };
  const unit = { companyId: 'acme', unitId: 'u-1' };
  expect(allows(all, connectionOf(unit), 'iot:Subscribe', arnOf('topicfilter/#'))).toBe(true);
  const byPrefix = {
    ...METER.Statement[1],
    Effect: 'Allow' as const,
    Action: ['iot:Publish'],
    Resource: [arnOf(`topic/units/\${iot:Connection.Thing.Attributes[unitId]}*`)],
  };
  expect(
    allows(
      { ...METER, Statement: [byPrefix] },
      connectionOf(unit),
      'iot:Publish',
      arnOf('topic/units/u-17/events'),
    ),
  ).toBe(true);
  const denied = {
    ...METER,
    Statement: [
      ...all.Statement,
      { ...all.Statement[0], Effect: 'Deny' as const, Action: ['iot:Publish'], Resource: ['*'] },
    ],
  };
  expect(allows(denied, connectionOf(unit), 'iot:Publish', arnOf('topic/x'))).toBe(false);
});
