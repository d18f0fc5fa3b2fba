package command

import (
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/session"
)

// clearTag takes a machine's tag away, with the findings that stood for it. One that was stopped
// must be named in full: power may return.
func clearTag(a *app, word, why string) error {
	at, err := a.when()
	if err != nil {
		return err
	}
	if why, err = action.Text("what was put right (--why)", why); err != nil {
		return err
	}
	m, err := findMachine(a, word)
	if err != nil {
		return err
	}
	if m.Stopped() && !strings.EqualFold(strings.TrimSpace(word), m.Name) {
		return misuse("%s is stopped: name it in full, oilcan machine edit %s --clear-tag --why …",
			m.Name, action.Typed(m.Name))
	}
	facts, err := action.ClearTag(m, why)
	if err != nil {
		return misuse("%w", err)
	}
	if at.Before(m.Tag.At) {
		at = m.Tag.At
	}
	for _, f := range m.Findings {
		if at.Before(f.At) {
			at = f.At
		}
	}
	entries, err := a.append(m, at, facts)
	if err != nil {
		return err
	}
	with := ""
	if n := len(facts) - 1; n > 0 {
		with = ", " + model.Counted(n, "finding") + " closed with it"
	}
	open := session.StillOpen(m)
	if err := a.saved(entries, "%s: tag %s cleared%s", m.Name, m.Tag.Kind, with); err != nil ||
		open == "" || a.flags.json {
		return err
	}
	a.say("%s", open)
	return nil
}
