/** One event of a stream of server-sent events (WHATWG HTML, 9.2), as far as it is used here. */
export interface ServerEvent {
  readonly event: string;
  readonly data: string;
}

/** Reads events from a body as they come. Comments and unknown fields are skipped, as the standard has it. */
export async function* eventsOf(body: ReadableStream<BufferSource>): AsyncGenerator<ServerEvent> {
  const reader = body.pipeThrough(new TextDecoderStream()).getReader();
  let rest = '';
  let event = 'message';
  let data: string[] = [];
  try {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return;
      const lines = (rest + value).split(/\r\n|\n|\r(?!$)/);
      rest = lines.pop() ?? '';
      for (const line of lines) {
        if (line === '') {
          if (data.length > 0) yield { event, data: data.join('\n') };
          event = 'message';
          data = [];
          continue;
        }
        const [, field, text = ''] = /^([^:]*)(?:: ?(.*))?$/s.exec(line) ?? [];
        if (field === 'event') event = text;
        if (field === 'data') data.push(text);
      }
    }
  } finally {
    await reader.cancel().catch(() => undefined);
  }
}
