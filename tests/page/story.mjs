// Plays a journey with a visitor of any engine, and keeps a picture of each step, none of them blank.
import assert from 'node:assert/strict';
import {mkdirSync, rmSync} from 'node:fs';
import {join} from 'node:path';
import {coloursIn, screens} from './browser.mjs';
import {journey, Player, settled} from './journey.mjs';

const looks = ['see', 'miss', 'note', 'changed'];

// playStory(VISITOR, NAME, JOURNEY): pictures go to build/screens/NAME. Ends the visitor.
export async function playStory(visitor, name, story = 'first_batch') {
  const folder = join(screens, name);
  rmSync(folder, {recursive: true, force: true});
  mkdirSync(folder, {recursive: true});
  const player = new Player(journey(story), visitor, async (step, number, error) => {
    if (visitor.page.isClosed() || !error && looks.includes(step.verb)) return;
    await settled(visitor.page);
    const png = await visitor.page.screenshot({path: join(folder, `${String(number).padStart(2, '0')}.png`)});
    if (error) return;
    assert.ok(await coloursIn(visitor.page, png) > 8, `the canvas is blank after line ${step.line}`);
  });
  try {
    await player.play();
    assert.deepEqual(await visitor.heard(), []);
  } catch (error) {
    // What the page itself has complained of says more.
    error.message += `\n${(await visitor.heard().catch(noise => [noise])).join('\n')}`;
    throw error;
  } finally {
    await visitor.end();
  }
}
