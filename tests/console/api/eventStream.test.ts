import fc from 'fast-check';
import { expect, test } from 'vitest';
import { eventsOf, type ServerEvent } from '../../../console/api/eventStream.ts';

const line = fc.string({ unit: 'grapheme' }).map((text) => text.replaceAll(/[\r\n]/g, ''));
const event = fc.record({
  event: fc.constantFrom('unit', 'progress'),
  data: fc.array(line, { minLength: 1 }),
});

test('events come out as they went in, wherever the network cuts them and however lines end', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.array(event),
      fc.constantFrom('\n', '\r\n', '\r'),
      fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 1 }),
      async (events, end, cuts) => {
        const text = events.flatMap(({ event, data }) => [
          ': beat',
          `event: ${event}`,
          'id: 7',
          ...data.map((each) => `data: ${each}`),
          '',
        ]);
        // A last line that ends in a carriage return is complete only when more comes.
        const whole = text.map((each) => each + end).join('') + (end === '\r' ? ': end\r' : '');
        const read: ServerEvent[] = [];
        for await (const each of eventsOf(streamOf(new TextEncoder().encode(whole), cuts))) read.push(each);
        expect(read).toEqual(events.map(({ event, data }) => ({ event, data: data.join('\n') })));
      },
    ),
  );
});

function streamOf(bytes: Uint8Array<ArrayBuffer>, cuts: readonly number[]) {
  let at = 0;
  let turn = 0;
  return new ReadableStream<Uint8Array<ArrayBuffer>>({
    pull(controller) {
      if (at >= bytes.length) return controller.close();
      const size = cuts[turn++ % cuts.length] ?? 1;
      controller.enqueue(bytes.slice(at, at + size));
      at += size;
    },
  });
}
