import { Command } from 'commander';
import { scoreFleet } from '../../lib/score/score.ts';
import { OutputFolder } from '../replay/outputFolder.ts';
import { readScored } from '../score/readScored.ts';
import { scoreText } from '../score/scoreText.ts';

const HELP = `
SIMULATED is a folder that brinebell simulate wrote, OUT what brinebell replay made of it. What is counted:
  told          an alert of the fault's kind, or of one that follows from it, raised while it lasted; delays count from
                the first day on which it makes a difference. Faults are counted on units that carry what tells of them
  true          an alert of something that was so: a fault, an overrun, a regeneration without salt, a tank nearly empty
  right cause   one of the alerts of a told fault names its cause
  calibration   expected calibration error of all probabilities in the histories, over ten bins
  asked, sent   for a stalled meter: a routine alert asks the household, a soon or urgent one sends a technician
The JSON has the reliability of each kind besides, bin by bin.

Example:
  brinebell simulate --out fleet && brinebell replay fleet/events.ndjson --units fleet/units.json --out replayed
  brinebell score fleet replayed --json scores`;

/** `brinebell score`: alerts against the truth. */
export function scoreCommand(): Command {
  return new Command('score')
    .description('score what a replay told of a simulated fleet against the truth about it')
    .argument('<simulated>', 'folder of the simulated fleet')
    .argument('<out>', 'folder of the replay')
    .option('--json <dir>', 'folder to write score.json to')
    .addHelpText('after', HELP)
    .action(async (simulated: string, out: string, { json }: { json?: string }) => {
      const score = scoreFleet(await readScored(simulated, out));
      console.log(scoreText(score));
      if (json === undefined) return;
      const folder = new OutputFolder(json);
      try {
        folder.output('score.json').add(`${JSON.stringify(score, null, 2)}\n`);
        folder.publish();
        console.log(`\nAll of it is in ${json}.`);
      } finally {
        folder.discard();
      }
    });
}
