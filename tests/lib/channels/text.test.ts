import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { adviceOf, CAUTION } from '../../../lib/channels/text/advice.ts';
import { septetsOf, toGsm } from '../../../lib/channels/text/gsm.ts';
import { mailText } from '../../../lib/channels/text/mail.ts';
import { smsText } from '../../../lib/channels/text/sms.ts';
import { webhookBody } from '../../../lib/channels/text/webhook.ts';
import { CHANGES } from '../../../lib/live/transitions.ts';
import { type AlertCause, CAUSES, SEVERITIES } from '../../../shared/alerts.ts';
import { alertWith, anyNotice, KINDS_AND_CAUSES, noticeWith } from './notices.ts';

/** What a phone shows of 7 bits: letters, digits and signs that need no second look. */
const GSM =
  /^[\n\r\f@£$¥èéùìòÇØøÅåΔ_ΦΓΛΩΠΨΣΘΞÆæßÉ !"#¤%&'()*+,\-./0-9:;<=>?¡A-ZÄÖÑÜ§¿a-zäöñüà^{}\\[~\]|€]*$/u;

describe('what to do next', () => {
  it('is said of every kind and cause, in words that a short message has room for', () => {
    for (const what of KINDS_AND_CAUSES) {
      for (const severity of SEVERITIES) {
        for (const change of CHANGES) {
          const { next, brief } = adviceOf({ change, alert: alertWith({ ...what, severity }) });
          expect(next).toMatch(/^[A-Z].*\.$/);
          expect(brief).toMatch(/^[A-Z].*\.$/);
          expect(septetsOf(toGsm(brief))).toBeLessThanOrEqual(38);
        }
      }
    }
  });

  it('differs by cause where another cause is mended otherwise', () => {
    const said = (cause: AlertCause) =>
      adviceOf({ change: 'raised', alert: alertWith({ kind: 'no-salt-draw', cause }) }).next;
    expect(new Set(CAUSES['no-salt-draw'].map(said)).size).toBe(CAUSES['no-salt-draw'].length);
  });

  it('asks the household before anybody is sent to a meter', () => {
    const next = (severity: 'routine' | 'soon' | 'urgent') =>
      adviceOf({ change: 'raised', alert: alertWith({ severity }) });
    expect(next('routine')).toMatchObject({
      next: expect.stringMatching(/^Ask the household/),
      handsInside: false,
    });
    expect(next('soon')).toMatchObject({
      next: expect.stringMatching(/^Send a technician/),
      handsInside: true,
    });
    expect(next('urgent')).toEqual(next('soon'));
  });

  it('falls back on the kind for a cause that is none of it', () => {
    const alert = alertWith({ kind: 'clock-off', cause: 'leak' });
    expect(adviceOf({ change: 'raised', alert })).toEqual(
      adviceOf({ change: 'raised', alert: { ...alert, cause: null } }),
    );
  });

  it('is nothing once an alert is over or was none', () => {
    for (const change of ['cleared', 'withdrawn'] as const) {
      expect(adviceOf({ change, alert: alertWith() }).handsInside).toBe(false);
      expect(adviceOf({ change, alert: alertWith() }).next).toMatch(/^Nothing more is asked/);
    }
  });
});

describe('a mail', () => {
  it('says what changed and where, what to do, the caution where hands go inside, and where to look', () => {
    const notice = noticeWith();
    expect(mailText(notice)).toEqual({
      subject: 'New urgent alert: no flow (meter stalled), site site-17, unit u-17',
      text: [
        `New urgent alert, site site-17, unit u-17: ${notice.alert.summary}`,
        'What to do next: Send a technician to free or replace the turbine meter, check the cable that reads it, and regenerate by hand.',
        CAUTION,
        'https://console.example/units/u-17/alerts/no-flow-1',
        'For Acme Water, region alder-county.\n',
      ].join('\n\n'),
    });
  });

  it('lists the checks of a visit in their order, with the caution, and passes over what is no check', () => {
    const evidence = { checks: ['flow-indicator', 'crystal-ball', 'measured-volume'] };
    const worded = (over: Parameters<typeof alertWith>[0]) =>
      mailText(noticeWith({ alert: alertWith({ evidence, ...over }) })).text;
    expect(worded({})).toMatch(
      /On the spot, in this order:\n1\. Open a tap .*\n2\. Draw a measured volume .*\n\n/,
    );
    expect(worded({ kind: 'setting-mismatch', cause: 'capacity-too-high' })).toContain(CAUTION);
    expect(worded({ severity: 'routine' })).not.toContain('On the spot');
  });

  it('has a subject of one line and the paragraphs that we gave it, whatever the data say', () => {
    fc.assert(
      fc.property(anyNotice, (notice) => {
        const { subject, text } = mailText(notice);
        expect(subject).not.toMatch(/[\p{C}\u2028\u2029]/u);
        expect(text.replaceAll('\n', '')).not.toMatch(/[\p{C}\u2028\u2029]/u);
        expect(text.includes(CAUTION)).toBe(adviceOf(notice).handsInside);
        expect(text.trimEnd().split('\n\n')).toHaveLength(adviceOf(notice).handsInside ? 5 : 4);
        expect(text).toContain(`\n\n${notice.link}\n\n`);
      }),
    );
  });
});

describe('a short message', () => {
  it('is what there is room for, the link always', () => {
    const sms = (over: Parameters<typeof noticeWith>[0]) => smsText(noticeWith(over));
    const link = 'https://console.example/units/u-17/alerts/no-flow-1';
    expect(sms({})).toBe(
      `Urgent, site-17: The meter has registered nothing for 12 days, since... Free or replace the turbine meter. ${link}`,
    );
    expect(sms({ change: 'cleared' })).toBe(`Over, site-17: no flow. Nothing more to do. ${link}`);
    expect(sms({ link: `${link}${'0'.repeat(40)}` })).toBe(
      `Urgent, site-17: The meter has registered nothing for 12 days,... ${link}${'0'.repeat(40)}`,
    );
  });

  it('is one message in the GSM alphabet that ends with the link, unless that takes more than 109 of 160', () => {
    fc.assert(
      fc.property(anyNotice, (notice) => {
        const text = smsText(notice);
        const link = septetsOf(notice.link);
        expect(text).toMatch(GSM);
        expect(text).not.toMatch(/[\r\n\f]/);
        expect(text.endsWith(` ${notice.link}`)).toBe(true);
        expect(septetsOf(text)).toBeLessThanOrEqual(link > 109 ? link + 51 : 160);
      }),
      { numRuns: 1000 },
    );
  });

  test('the alphabet counts what it escapes twice, and likens what it lacks', () => {
    // 3GPP TS 23.038, section 6.2.1.1: the extension table's characters take an escape before them.
    expect(septetsOf('a{€}é')).toBe(8);
    expect(toGsm('Café à la “brine” – naïve ½ 水')).toBe('Café à la "brine" - naive ? ?');
  });
});

test('a webhook is sent JSON that says the same as the notice', () => {
  fc.assert(
    fc.property(anyNotice, (notice) => {
      const { type, timestamp, data } = JSON.parse(webhookBody(notice));
      expect(type).toBe(`alert.${notice.change}`);
      expect(Date.parse(timestamp)).toBe(notice.at);
      expect(data.alert).toEqual(JSON.parse(JSON.stringify(notice.alert)));
      expect([data.key, data.companyId, data.unitId, data.alertId, data.link]).toEqual([
        notice.key,
        notice.company.companyId,
        notice.unitId,
        notice.alertId,
        notice.link,
      ]);
    }),
  );
});
