import { describe, expect, it } from 'vitest';
import * as z from 'zod';
import { STAGES } from '../../../infra/aws/stages.ts';
import { EXPIRY, TABLE } from '../../../lib/store/table.ts';
import { synthAll } from './synthed.ts';

const all = synthAll();

describe.each(all)('%s: what is kept', (name, { templates, stage }) => {
  const bucket = (path: string) => templates.only('AWS::S3::Bucket', path);

  it('makes the table as the store makes it elsewhere, on demand, with a way back', () => {
    const { Properties, DeletionPolicy } = templates.only('AWS::DynamoDB::Table');
    expect(Properties).toMatchObject({
      ...TABLE,
      TimeToLiveSpecification: { AttributeName: EXPIRY, Enabled: true },
      PointInTimeRecoverySpecification: {
        PointInTimeRecoveryEnabled: true,
        RecoveryPeriodInDays: STAGES[stage].restoreDays,
      },
      DeletionProtectionEnabled: true,
      SSESpecification: { SSEEnabled: true, SSEType: 'KMS' },
    });
    expect(DeletionPolicy).toBe('Retain');
  });

  it('encrypts table, files, secrets and what the operator is told by its own key, which turns every year', () => {
    const told = (type: string, read: (properties: Record<string, unknown>) => unknown, path?: string) => {
      const { stack, Properties } = templates.only(type, path);
      return templates.told(stack, read(Properties));
    };
    const key = '<Data/Key.Arn>';
    expect(
      told('AWS::DynamoDB::Table', ({ SSESpecification }) => pick(SSESpecification, 'KMSMasterKeyId')),
    ).toBe(key);
    for (const path of ['Data/AnswerKey', 'Data/OperatorKey'])
      expect(told('AWS::SecretsManager::Secret', ({ KmsKeyId }) => KmsKeyId, path)).toBe(key);
    for (const path of ['Watch/Wake', 'Watch/Morning'])
      expect(told('AWS::SNS::Topic', ({ KmsMasterKeyId }) => KmsMasterKeyId, path)).toBe(key);
    expect(encryptionOf(bucket('Files/Files').Properties)).toEqual(['aws:kms', true]);
    expect(templates.only('AWS::KMS::Key').Properties.EnableKeyRotation).toBe(true);
  });

  it('keeps every bucket private, encrypted and logged, and old versions of files for a while', () => {
    const logs = '<Files/AccessLogs>';
    for (const { path, stack, Properties } of templates.ofType('AWS::S3::Bucket')) {
      expect(Properties.PublicAccessBlockConfiguration).toEqual({
        ...{ BlockPublicAcls: true, BlockPublicPolicy: true },
        ...{ IgnorePublicAcls: true, RestrictPublicBuckets: true },
      });
      expect(encryptionOf(Properties)[0]).toMatch(/^(aws:kms|AES256)$/);
      const target = pick(Properties.LoggingConfiguration, 'DestinationBucketName');
      expect([path, target && templates.told(stack, target)]).toEqual([
        path,
        path === 'Files/AccessLogs' ? undefined : logs,
      ]);
    }
    const { Properties } = bucket('Files/Files');
    expect(Properties.VersioningConfiguration).toEqual({ Status: 'Enabled' });
    expect(JSON.stringify(Properties.LifecycleConfiguration)).toContain(
      `"NoncurrentDays":${STAGES[stage].oldFileDays}`,
    );
  });

  it('lets nobody but CloudFront write by an access control list', () => {
    const owned = (path: string) => JSON.stringify(bucket(path).Properties.OwnershipControls);
    expect(owned('Files/AccessLogs')).toContain('BucketOwnerEnforced');
    expect(owned('Files/EdgeLogs')).toContain('BucketOwnerPreferred');
    const { stack, Properties } = templates.only('AWS::CloudFront::Distribution');
    const logging = pick(pick(Properties.DistributionConfig, 'Logging'), 'Bucket');
    expect(templates.told(stack, logging)).toBe('<Files/EdgeLogs.RegionalDomainName>');
  });

  it('locks files only where that was asked for', () => {
    const { ObjectLockEnabled, ObjectLockConfiguration } = bucket('Files/Files').Properties;
    const isAsked = name.endsWith('everything');
    expect(ObjectLockEnabled).toBe(isAsked ? true : undefined);
    expect(ObjectLockConfiguration).toEqual(
      isAsked
        ? { ObjectLockEnabled: 'Enabled', Rule: { DefaultRetention: { Days: 30, Mode: 'GOVERNANCE' } } }
        : undefined,
    );
  });

  it('keeps what cannot be made again, whatever becomes of the stacks', () => {
    const kept = templates.resources.filter(({ DeletionPolicy }) => DeletionPolicy === 'Retain');
    expect(kept.map(({ path }) => path).sort()).toEqual([
      ...(templates.stacks.includes('Catalogue') ? ['Catalogue/Results'] : []),
      ...['Data/AnswerKey', 'Data/Key', 'Data/OperatorKey', 'Data/Table'],
      ...['Files/AccessLogs', 'Files/EdgeLogs', 'Files/Files', 'Identity/People'],
      // Meters' things and certificates, which no stack holds, go on hanging on these.
      ...['Meters/ClaimPolicy', 'Meters/Meter', 'Meters/MeterPolicy'],
    ]);
    const { Properties } = templates.only('AWS::Cognito::UserPool');
    expect(Properties.DeletionProtection).toBe('ACTIVE');
  });

  it('lets no query of the archive read more than the stage allows, and encrypts what it finds', () => {
    if (!templates.stacks.includes('Catalogue')) return;
    const { stack, Properties } = templates.only('AWS::Athena::WorkGroup');
    const configuration = z
      .object({
        EnforceWorkGroupConfiguration: z.literal(true),
        BytesScannedCutoffPerQuery: z.literal(STAGES[stage].queryBytes),
        ResultConfiguration: z.object({
          EncryptionConfiguration: z.object({ EncryptionOption: z.literal('SSE_KMS'), KmsKey: z.unknown() }),
        }),
      })
      .parse(Properties.WorkGroupConfiguration);
    const { KmsKey } = configuration.ResultConfiguration.EncryptionConfiguration;
    expect(templates.told(stack, KmsKey)).toBe('<Data/Key.Arn>');
  });

  it('forgets logs after the days of the stage', () => {
    const groups = templates.ofType('AWS::Logs::LogGroup');
    expect(new Set(groups.map(({ Properties }) => Properties.RetentionInDays))).toEqual(
      new Set([STAGES[stage].logDays]),
    );
    expect(groups.length).toBeGreaterThan(templates.ofType('AWS::Lambda::Function').length);
  });
});

function encryptionOf({ BucketEncryption }: Readonly<Record<string, unknown>>): [string, unknown] {
  const [rule] = z
    .object({
      ServerSideEncryptionConfiguration: z.array(
        z.object({
          BucketKeyEnabled: z.unknown().optional(),
          ServerSideEncryptionByDefault: z.object({ SSEAlgorithm: z.string() }),
        }),
      ),
    })
    .parse(BucketEncryption).ServerSideEncryptionConfiguration;
  return [rule?.ServerSideEncryptionByDefault.SSEAlgorithm ?? '', rule?.BucketKeyEnabled];
}

function pick(value: unknown, key: string): unknown {
  return z.record(z.string(), z.unknown()).catch({}).parse(value)[key];
}
