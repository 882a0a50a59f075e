import { html } from 'hono/html';
import { formatLocalDate, type LocalDate } from '../../shared/time/localDate.ts';

type Page = ReturnType<typeof html>;

/** Plain and large, on a telephone too; the reader's own colours, dark or light. */
const STYLE = `
:root{color-scheme:light dark}
body{font:1.125rem/1.5 system-ui,sans-serif;max-width:34rem;margin:0 auto;padding:1.5rem}
h1{font-size:1.375rem;line-height:1.3}
form{margin:1.25rem 0}
button,input{font:inherit;padding:.75rem 1rem;border-radius:.5rem;border:2px solid currentColor}
button{display:block;width:100%;background:transparent;color:inherit;text-align:left;cursor:pointer}
button:focus-visible,input:focus-visible{outline:3px solid Highlight;outline-offset:2px}
label{display:block;margin:0 0 .25rem}
input{margin:0 0 .5rem;background:Canvas;color:CanvasText}
small{display:block}`;

/** Nothing is loaded from anywhere, nothing is kept, and no script runs. */
export const PAGE_HEADERS = {
  'content-security-policy':
    "default-src 'none'; style-src 'unsafe-inline'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
  'referrer-policy': 'no-referrer',
  'cache-control': 'no-store',
  'x-content-type-options': 'nosniff',
} as const;

/** Asks the household; each answer is one tap. */
export function questionPage(
  companyName: string,
  days: { since: LocalDate; today: LocalDate; latest: LocalDate },
): Page {
  const { since, today, latest } = days;
  const isoOf = formatLocalDate;
  return page(
    'Are you away?',
    html`<h1>Your softener’s meter has counted no water since ${dated(since)}. Are you away?</h1>
      <p>If you are at home and use water, the meter has stopped: the softener will not renew itself, and the water turns
      hard. One tap is all we need.</p>
      <form method="post">
        <button name="answer" value="at-home">We are at home and use water</button>
      </form>
      <form method="post">
        <label for="until">We are away until</label>
        <input id="until" name="until" type="date" required value="${isoOf(today + 7)}" min="${isoOf(today)}" max="${isoOf(latest)}">
        <button name="answer" value="away">We are away until that day</button>
      </form>
      <form method="post">
        <button name="answer" value="not-sure">Not sure, or somebody else should look</button>
      </form>
      <p><small>${companyName}</small></p>`,
  );
}

/** Says what comes of an answer. */
export function thanksPage(companyName: string, answer: 'at-home' | 'away' | 'not-sure'): Page {
  const words = {
    'at-home':
      'Then the meter has stopped. We will get in touch about a visit; you need do nothing meanwhile.',
    away: 'Then all is well. We will not ask again while you are away.',
    'not-sure': 'We will watch the meter and get in touch if it goes on.',
  } as const;
  return page(
    'Thank you',
    html`<h1>Thank you.</h1>
      <p>${words[answer]}</p>
      <p><small>${companyName}. If that was a slip, open the link again and answer anew.</small></p>`,
  );
}

/** Instead of a question that cannot be answered. */
export function overPage(words: string): Page {
  return page('Nothing to answer', html`<h1>There is nothing to answer here.</h1><p>${words}</p>`);
}

function page(title: string, body: Page): Page {
  return html`<!doctype html>
    <html lang="en">
      <head>
        <meta charset="utf-8">
        <meta name="viewport" content="width=device-width, initial-scale=1">
        <meta name="robots" content="noindex">
        <title>${title}</title>
        <style>${STYLE}</style>
      </head>
      <body><main>${body}</main></body>
    </html>`;
}

function dated(date: LocalDate): Page {
  const text = new Date(date * 86_400_000).toLocaleDateString('en-US', {
    month: 'long',
    day: 'numeric',
    timeZone: 'UTC',
  });
  return html`<time datetime="${formatLocalDate(date)}">${text}</time>`;
}
