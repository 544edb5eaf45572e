// What is proposed for a picture: hollow marks, which appear beside what is set and never change it.

const SEEN_AFTER = 300;  // milliseconds after which a mark that has appeared can have been seen

/** Ends of the ground, hollow where the picture has no such line of its own. */
function proposeGround(lines) {
  for (const [kind, ends] of Object.entries(ENDS)) {
    if (lines[kind] && !page.set[ends[0]]) ["from", "to"].forEach((end, k) => { page.hollow[ends[k]] = { at: lines[kind][end] }; });
  }
}

/** Hollow marks from the program, when it has looked at the picture. What is set stays, and so does a mark that somebody
 * is placing: it does not change under the hand. Enter waits until they can have been seen. */
async function propose(still) {
  by("picture").dataset.proposals = "awaited";
  const said = await proposals(still.number);
  if (page.still !== still) return;
  const placing = page.aim ? page.aim.name : page.cross && !page.held ? page.current : null;
  const found = Object.fromEntries([[said.marks, false], [said.start_only, true]].flatMap(([marks, start]) => Object.entries(marks).map(([name, at]) => [name, { at, start }])));
  const beside = ([set, hollow]) => [set, { ...Object.fromEntries(Object.entries(found).filter(([name]) => !set[name] && name !== placing)), ...hollow }];
  [page.set, page.hollow] = beside([page.set, page.hollow]);
  page.past = page.past.map(beside);
  page.future = page.future.map(beside);
  by("lacks").textContent = said.lacks ? says("lacks", { install: said.lacks }) : "";
  page.looking = false;
  refresh("");
  setTimeout(() => {
    if (page.still !== still) return;
    page.unseen = false;
    by("picture").dataset.proposals = "seen";
  }, SEEN_AFTER);
}
async function proposals(number) {
  if (given.blind) return { marks: {}, start_only: {}, lacks: null };
  try {
    const answer = await fetch(`${here(number)}/proposed`);
    if (answer.ok) return await answer.json();
  } catch {
    // the line of what is kept says that the desk does not answer
  }
  return { marks: {}, start_only: {}, lacks: null };
}
