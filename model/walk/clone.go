package walk

import (
	"maps"
	"slices"
)

// clone is the walk as it stands, sharing nothing that folding changes. What is only ever replaced
// whole is shared: the texts, what a session began with, the page that came up, a renewal.
func (w *Walk) clone() *Walk {
	c := *w
	c.progress = w.progress.clone()
	c.belief = w.belief.clone()
	c.book = w.book.clone()
	c.knowing = w.knowing.clone()
	c.owing = w.owing.clone()
	c.running = w.running.clone()
	c.toAsk, c.pending, c.barred = slices.Clone(w.toAsk), slices.Clone(w.pending), maps.Clone(
		w.barred)
	c.leftIDs, c.goneOn = slices.Clone(w.leftIDs), slices.Clone(w.goneOn)
	c.entries = slices.Clip(w.entries)
	return &c
}

func (at progress) clone() progress {
	at.Blocks = slices.Clone(at.Blocks)
	for i, b := range at.Blocks {
		own := *b
		at.Blocks[i] = &own
	}
	at.passed, at.answers, at.how, at.tries = maps.Clone(at.passed), maps.Clone(
		at.answers), maps.Clone(at.how), maps.Clone(at.tries)
	at.skips, at.occur, at.begunAt = maps.Clone(at.skips), maps.Clone(at.occur), maps.Clone(
		at.begunAt)
	at.parked, at.cutOff = maps.Clone(at.parked), maps.Clone(at.cutOff)
	return at
}

func (bel belief) clone() belief {
	bel.Believed, bel.Seen, bel.left = maps.Clone(bel.Believed), maps.Clone(bel.Seen), maps.Clone(
		bel.left)
	bel.words, bel.brought, bel.degrees = maps.Clone(bel.words), maps.Clone(
		bel.brought), maps.Clone(bel.degrees)
	return bel
}

func (bk book) clone() book {
	bk.moves = maps.Clone(bk.moves)
	for step, m := range bk.moves {
		bk.moves[step] = maps.Clone(m)
	}
	bk.flags, bk.perhaps = maps.Clone(bk.flags), maps.Clone(bk.perhaps)
	bk.untilTold = maps.Clone(bk.untilTold)
	bk.toCount, bk.missing, bk.lost = slices.Clone(bk.toCount), slices.Clone(
		bk.missing), slices.Clone(bk.lost)
	return bk
}

func (kn knowing) clone() knowing {
	kn.known, kn.stood, kn.whole = maps.Clone(kn.known), maps.Clone(kn.stood), maps.Clone(kn.whole)
	return kn
}

func (ow owing) clone() owing {
	ow.owed, ow.unproved, ow.renewals = slices.Clone(ow.owed), maps.Clone(ow.unproved), maps.Clone(
		ow.renewals)
	return ow
}
