/**
 * What AWS IoT Core makes of a meter that claims: a thing with the ids of its unit, its certificate made active, and the policy
 * of meters on it. The meter hands in `CompanyId`, `UnitId` and `ClaimCode`; the function `admit` says what stands, the thing's
 * name among it, so that nothing that a meter hands in counts unless its code is right.
 *
 * Source of the members: AWS IoT Core, Developer Guide, "Provisioning templates".
 */
export function meterTemplate({ thingType, policy }: { thingType: string; policy: string }) {
  const parameter = { Type: 'String' };
  return {
    Parameters: {
      ThingName: parameter,
      CompanyId: parameter,
      UnitId: parameter,
      ClaimCode: parameter,
      'AWS::IoT::Certificate::Id': parameter,
    },
    Resources: {
      thing: {
        Type: 'AWS::IoT::Thing',
        Properties: {
          ThingName: { Ref: 'ThingName' },
          ThingTypeName: thingType,
          AttributePayload: { companyId: { Ref: 'CompanyId' }, unitId: { Ref: 'UnitId' } },
        },
        // A meter that is replaced, or has a new key, is the same thing.
        OverrideSettings: { AttributePayload: 'REPLACE', ThingTypeName: 'REPLACE' },
      },
      certificate: {
        Type: 'AWS::IoT::Certificate',
        Properties: { CertificateId: { Ref: 'AWS::IoT::Certificate::Id' }, Status: 'Active' },
      },
      policy: { Type: 'AWS::IoT::Policy', Properties: { PolicyName: policy } },
    },
  };
}
