import { Empty } from '../../app/Empty.tsx';
import styles from '../care.module.css';
import { QuarantineList } from './QuarantineList.tsx';
import { REASON_WORDS } from './reasons.ts';

/** Reports that came twice and differ. */
export function Conflicts() {
  return (
    <>
      <p className={`soft ${styles.intro}`}>
        A report with the same name came twice, and the two do not say the same.{' '}
        {REASON_WORDS['conflicting-duplicate'].mend} Where it happens time and again, two meters may have been
        given the same name.
      </p>
      <QuarantineList
        reason="conflicting-duplicate"
        empty={
          <Empty title="No report contradicts another">
            <p>Reports that came twice said the same. There is nothing to do.</p>
          </Empty>
        }
      />
    </>
  );
}
