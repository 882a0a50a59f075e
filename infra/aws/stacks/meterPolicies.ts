/** The ARN of a resource of AWS IoT Core in this account and region, of what comes behind its last colon. */
export type ArnOf = (resource: string) => string;

export interface PolicyStatement {
  readonly Effect: 'Allow' | 'Deny';
  readonly Action: readonly string[];
  readonly Resource: readonly string[];
  readonly Condition?: Readonly<Record<string, Readonly<Record<string, readonly string[]>>>>;
}

export interface PolicyDocument {
  readonly Version: '2012-10-17';
  readonly Statement: readonly PolicyStatement[];
}

/**
 * What a meter may do with its own certificate, and nothing else: connect under the name of the thing that this certificate is
 * attached to, and publish on the topic of that thing's unit. No retained message, no last will, nothing to subscribe to, no
 * shadow, no job. Over HTTPS there is no thing to speak of, so that nothing is allowed there.
 *
 * Units of two companies may share a topic, since it bears no company: who it was is told by the client id, and nobody can
 * listen. Source of the variables: AWS IoT Core, Developer Guide, "Thing policy variables" and "Connect policy examples".
 */
export function meterPolicy(arnOf: ArnOf): PolicyDocument {
  return {
    Version: '2012-10-17',
    Statement: [
      {
        Effect: 'Allow',
        Action: ['iot:Connect'],
        Resource: [arnOf(`client/\${iot:Connection.Thing.ThingName}`)],
        Condition: {
          Bool: { 'iot:Connection.Thing.IsAttached': ['true'] },
          'ForAllValues:StringEquals': { 'iot:ConnectAttributes': ['PersistentConnect'] },
        },
      },
      {
        Effect: 'Allow',
        Action: ['iot:Publish'],
        Resource: [arnOf(`topic/units/\${iot:Connection.Thing.Attributes[unitId]}/events`)],
      },
    ],
  };
}

/** What the client ids of meters that claim begin with. No thing is called so: whoever has only a claim cannot end the connection of a meter. */
const CLAIMING = '_claim-';

/**
 * What a meter may do with the claim certificate that all of a batch share: ask for a certificate for a key of its own, and
 * hand it in with its code. The other way, by which AWS makes the key, is left out: a key should never travel.
 *
 * Source of the topics: AWS IoT Core, Developer Guide, "Device provisioning MQTT API".
 */
export function claimPolicy(arnOf: ArnOf, template: string): PolicyDocument {
  const requests = [
    '$aws/certificates/create-from-csr/json',
    `$aws/provisioning-templates/${template}/provision/json`,
  ];
  const answers = requests.flatMap((topic) => [`${topic}/accepted`, `${topic}/rejected`]);
  const allow = (action: string, resources: readonly string[]): PolicyStatement => ({
    Effect: 'Allow',
    Action: [action],
    Resource: resources.map(arnOf),
  });
  return {
    Version: '2012-10-17',
    Statement: [
      allow('iot:Connect', [`client/${CLAIMING}*`]),
      allow(
        'iot:Publish',
        requests.map((topic) => `topic/${topic}`),
      ),
      allow(
        'iot:Receive',
        answers.map((topic) => `topic/${topic}`),
      ),
      allow(
        'iot:Subscribe',
        answers.map((topic) => `topicfilter/${topic}`),
      ),
    ],
  };
}
