// The main job in Firefox, narrow, by touch.
import {after, test} from 'node:test';
import {display} from '../native/desktop.mjs';
import {playStory} from '../page/story.mjs';
import {sizes} from '../page/visitor.mjs';
import {FirefoxVisitor} from './firefox.mjs';

after(() => FirefoxVisitor.endAll());

test('the first batch in Firefox, narrow', async t => {
  const visitor = await FirefoxVisitor.start({display: await display(t)}, {options: sizes.narrow});
  await playStory(visitor, 'firefox');
});
