package walk

import (
	"fmt"
	"slices"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/session"
	"bench/oilcan/ui/theme"
)

// SetSize shares the width between the page and, where there is room, the session beside it.
func (v *walkScreen) SetSize(w, h int) {
	v.side = 0
	if w >= screen.PanesFrom {
		v.side = min(w*2/5, screen.WideText) - screen.PanesApart
	}
	v.Base.SetSize(w-v.side, h)
	if v.side > 0 {
		v.W -= screen.PanesApart
	}
	v.draw()
}

// sideLines are the session: its blocks, what runs, and what is out of the machine; h lines at
// most.
func (v *walkScreen) sideLines(h int) []string {
	foot := slices.Concat(v.sideWaits(), v.sideLedger())
	return slices.Concat(v.sideBlocks(max(3, h-len(foot))), foot)
}

// sideBlocks list the session's blocks in n lines at most, those around the one under way.
func (v *walkScreen) sideBlocks(n int) []string {
	t, w := v.Env.Theme, v.s.W
	rows := make([]string, len(w.Blocks))
	for i, b := range w.Blocks {
		mark, paint := " ", theme.Paint{}
		switch {
		case i == w.Cur:
			mark, paint = ">", t.Text.Strong
		case b.Status == walk.Omitted || b.Status == walk.Parked:
			mark, paint = "-", t.Text.Dim
		case i < w.Cur:
			mark, paint = "✓", t.Text.Dim
		}
		rows[i] = t.Plain(mark) + " " +
			paint.Text(t.Trunc(t.Plain(theme.Safe(blockName(b))), v.side-2))
	}
	head := fmt.Sprintf("the session: block %d of %d", min(w.Cur+1, len(rows)), len(rows))
	room := max(1, n-2)
	from := max(0, min(w.Cur-room/3, len(rows)-room))
	return append([]string{t.Text.Dim.Text(t.Trunc(head, v.side)), ""},
		rows[from:min(len(rows), from+room)]...)
}

// blockName is what a block is called: a set-up action by what it does.
func blockName(b *walk.Block) string {
	if b.Kind == model.BlockSetUp {
		return session.SetUpWords(b.ID)
	}
	return b.Proc.Heading()
}

// sideWaits are the waits that run beside what is asked.
func (v *walkScreen) sideWaits() []string {
	var out []string
	for _, r := range v.running() {
		out = append(out, v.Env.Theme.Trunc(v.Env.Theme.Plain(model.TimeLeft(r.Until.Sub(v.Now))+
			"  "+theme.Safe(r.Why)), v.side))
	}
	return v.underHead("waiting", out)
}

// sideLedger is what is out of the machine, in it or loose, a line each kind.
func (v *walkScreen) sideLedger() []string {
	t := v.Env.Theme
	return v.underHead("to be undone",
		screen.WrapParts(t.Plain(theme.Safe(v.s.W.LedgerShown(v.s.W.Step()))), t.Plain(" · "), v.side))
}

func (v *walkScreen) underHead(head string, lines []string) []string {
	if len(lines) == 0 || lines[0] == "" {
		return nil
	}
	return append([]string{"", v.Env.Theme.Text.Dim.Text(head)}, lines...)
}
