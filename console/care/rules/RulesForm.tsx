import { Button, Textarea } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { ServiceProblem } from '../../api/problem.ts';
import { messageOf } from '../../app/failure.ts';
import { type Rules, startTrial } from './query.ts';
import styles from './rules.module.css';

interface RulesFormProps {
  /** What stands. */
  readonly rules: Rules;
  readonly onStarted: (trialId: string) => void;
}

/** What is to be overridden, as JSON, as the API takes it. */
export function RulesForm({ rules, onStarted }: RulesFormProps) {
  const [text, setText] = useState(() => JSON.stringify(rules, null, 2));
  const [isBusy, setBusy] = useState(false);
  const [error, setError] = useState<string>();
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    setBusy(true);
    setError(undefined);
    try {
      onStarted(await startTrial(parsed(text)));
    } catch (reason) {
      setError(faultsOf(reason));
    } finally {
      setBusy(false);
    }
  };
  return (
    <form className={styles.form} onSubmit={(event) => void submit(event)}>
      <Textarea
        label="Rules that differ from the defaults, as JSON"
        description='Those that stand are filled in. Such as { "overrun": { "raise": 0.97 } }'
        autosize
        minRows={6}
        maxRows={24}
        spellCheck={false}
        classNames={{ input: styles.json ?? '' }}
        value={text}
        error={error}
        onChange={({ currentTarget }) => setText(currentTarget.value)}
      />
      <Button type="submit" loading={isBusy} className={styles.try ?? ''}>
        Try them
      </Button>
    </form>
  );
}

/** What is wrong with which rule: the service points into a request that nobody sees here. */
function faultsOf(error: unknown): string {
  if (!(error instanceof ServiceProblem) || error.faults.length === 0) return messageOf(error);
  return error.faults
    .map(({ detail, pointer = '' }) => {
      const rule = pointer.split('/').slice(2).join('.');
      return rule ? `${rule}: ${detail}` : detail;
    })
    .join('; ');
}

function parsed(text: string): Rules {
  try {
    const value: unknown = JSON.parse(text);
    if (typeof value === 'object' && value !== null && !Array.isArray(value)) return { ...value };
  } catch (error) {
    throw new Error(`This is not JSON: ${messageOf(error)}`);
  }
  throw new Error('Rules are a JSON object, such as { "overrun": { "raise": 0.97 } }.');
}
