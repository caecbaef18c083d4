// The main job in WebKitGTK, narrow, with a mouse: its driver has no finger.
import {after, test} from 'node:test';
import {display} from '../native/desktop.mjs';
import {playStory} from '../page/story.mjs';
import {sizes} from '../page/visitor.mjs';
import {WebKitVisitor} from './webkit.mjs';

after(() => WebKitVisitor.endAll());

test('the first batch in WebKitGTK, narrow', async t => {
  const visitor = await WebKitVisitor.start({display: await display(t)}, {options: sizes.narrow});
  await playStory(visitor, 'webkit');
});
