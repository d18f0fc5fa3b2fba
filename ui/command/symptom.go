package command

import (
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"bench/oilcan/model"
	"bench/oilcan/model/symptom"
	"bench/oilcan/procedures"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/theme"
)

// symptomFlags are what may be said with a symptom.
type symptomFlags struct {
	answer, and, andAnswer string
	cured, notCured        string
	tag                    bool
}

func symptomCommand(a *app) *cobra.Command {
	var f symptomFlags
	c := &cobra.Command{
		Use: "symptom [NAME [MACHINE]]", Short: "which care is likely to cure what you see",
		Long: "Name what you see; the question is asked first, then come the causes maintenance won't fix, and\n" +
			"the care ranked for the machine: by weight, by how far its gauge is used up, by what was done\n" +
			"last, by what cured it here before. Without a name, every symptom. Fire and shock symptoms\n" +
			"show what to do now, and nothing else.",
		Example: "  oilcan symptom\n  oilcan symptom ringing Heron --answer \"one axis\"\n" +
			"  oilcan symptom stringing Heron --and filament-wet-popping\n  oilcan symptom ringing Heron --not-cured belts-reset",
		Args:              between(0, 2, "a symptom and a machine, or nothing for the list"),
		ValidArgsFunction: inTurn(a, symptomNames, machineNames),
		RunE:              func(_ *cobra.Command, args []string) error { return lookUp(a, args, f) },
	}
	c.Flags().StringVar(&f.answer, "answer", "",
		"the `answer` to its question: its number, its first words, or -")
	c.Flags().StringVar(&f.and, "and", "", "a second `symptom` seen with it")
	c.Flags().StringVar(&f.andAnswer, "and-answer", "", "the `answer` to the second one's question")
	c.Flags().StringVar(&f.cured, "cured", "", "this `care` cured it: log that")
	c.Flags().StringVar(&f.notCured, "not-cured", "", "this `care` did not cure it: log that")
	c.Flags().BoolVar(&f.tag, "tag", false,
		"of a stop: set the machine's tag, which locks its power")
	completeFlag(c, "and", every(a, symptomNames))
	completeFlag(c, "cured", every(a, procedureIDs))
	completeFlag(c, "not-cured", every(a, procedureIDs))
	return c
}

func lookUp(a *app, args []string, f symptomFlags) error {
	if len(args) == 0 {
		if f != (symptomFlags{}) {
			return misuse("name the symptom first: oilcan symptom lists them all")
		}
		return listSymptoms(a)
	}
	var m *model.Machine
	var err error
	if len(args) == 2 {
		if m, err = machineInUse(a, args[1]); err != nil {
			return err
		}
	}
	s, err := action.FindSymptom(procedures.Symptoms(), m, args[0])
	if err != nil {
		return err
	}
	switch {
	case f.cured != "" && f.notCured != "":
		return misuse("it was cured or it was not: give --cured or --not-cured")
	case f.cured != "":
		return logOutcome(a, s, m, f.cured, model.Cured)
	case f.notCured != "":
		return logOutcome(a, s, m, f.notCured, model.NotCured)
	}
	return rankCare(a, s, m, f)
}

func listSymptoms(a *app) error {
	return list(a, procedures.Symptoms().Symptoms, "", table{}, func(s symptom.Symptom) []any {
		note := ""
		switch {
		case s.Stop:
			note = "stop"
		case s.Normal != "":
			note = "normal"
		}
		return []any{s.ID, s.Title, note}
	})
}

// rankCare ranks care for a symptom, asking first what was not answered.
func rankCare(a *app, s *symptom.Symptom, m *model.Machine, f symptomFlags) error {
	heard, err := hear(a, s, m, f)
	if err != nil {
		return err
	}
	b, err := a.bench()
	if err != nil {
		return err
	}
	d, err := deskOf(a)
	if err != nil {
		return err
	}
	r := d.Rank(b, m, heard, a.now())
	if f.tag && r.Stop == nil {
		return misuse("%q is no stop: a tag is set for fire and shock symptoms only", s.Title)
	}
	if r.Stop != nil {
		return stopPage(a, r.Stop, m, f.tag)
	}
	if a.flags.json {
		return a.writeJSON(symptomRow(heard, m, r))
	}
	p := symptomPage{app: a, m: m, heard: heard, r: r}
	p.write()
	return nil
}

// hear takes the symptoms with their answers. On a terminal what was not answered is asked; a stop
// asks nothing.
func hear(a *app, s *symptom.Symptom, m *model.Machine, f symptomFlags) ([]symptom.Heard, error) {
	names := []*symptom.Symptom{s}
	answers := []string{f.answer, f.andAnswer}
	if f.and != "" {
		other, err := action.FindSymptom(procedures.Symptoms(), m, f.and)
		if err != nil {
			return nil, err
		}
		if other == s {
			return nil, misuse("%q is named twice: name another with --and", s.Title)
		}
		names = append(names, other)
	} else if f.andAnswer != "" {
		return nil, misuse("--and-answer goes with --and: name the second symptom")
	}
	stop := slices.ContainsFunc(names, func(x *symptom.Symptom) bool { return x.Stop })
	var out []symptom.Heard
	for i, x := range names {
		answer, err := action.FindAnswer(x, m, answers[i])
		if err != nil {
			return nil, err
		}
		if answers[i] == "" && !stop && len(x.Answers) > 0 && a.talks() {
			if answer, err = askSymptom(a, x, m); err != nil {
				return nil, err
			}
		}
		out = append(out, symptom.Heard{Symptom: x, Answer: answer})
	}
	return out, nil
}

// askSymptom puts a symptom's question until it is answered.
func askSymptom(a *app, s *symptom.Symptom, m *model.Machine) (string, error) {
	a.say("%s", a.th.Text.Strong.On(s.Ask))
	answers := s.AnswersOn(m)
	for i, x := range answers {
		a.say("  %d  %s", i+1, x.Is)
	}
	a.say("  %d  don't know", len(answers)+1)
	for {
		text, err := a.ask("number:")
		if err != nil {
			return "", err
		}
		answer, err := action.FindAnswer(s, m, text)
		if err == nil {
			return answer, nil
		}
		a.warn(err)
	}
}

// stopPage says what to do now, and sets the tag where asked for or agreed to.
func stopPage(a *app, s *symptom.Symptom, m *model.Machine, tag bool) error {
	if tag && m == nil {
		return misuse("say on which machine the tag is set: oilcan symptom %s MACHINE --tag", s.ID)
	}
	if !a.flags.json {
		a.say("%s", a.th.State.Past.On("STOP   "+s.Title))
		for i, l := range s.Page {
			mark := fmt.Sprintf("%d ", i+1)
			for _, part := range theme.Wrap(l, 72) {
				a.say("  %s %s", mark, part)
				mark = "  "
			}
		}
	}
	stopped := m.Stopped()
	if m != nil && !stopped && !tag && a.talks() {
		answer, err := a.ask("Set the tag \"stopped\" on " + m.Name +
			", which locks its power? y or n:")
		if err != nil {
			return err
		}
		tag = model.IsYes(answer)
	}
	finding := ""
	if tag && !stopped {
		at, err := a.when()
		if err != nil {
			return err
		}
		entries, err := a.append(m, at, action.Stop(s.Title))
		if err != nil {
			return err
		}
		finding, stopped = short(entries[0].ID), true
	}
	return sayStopped(a, s, m, stopped, finding)
}

// sayStopped says whether the machine carries its tag; finding is what was just noted, "" for
// nothing.
func sayStopped(a *app, s *symptom.Symptom, m *model.Machine, stopped bool, finding string) error {
	switch {
	case a.flags.json:
		return a.writeJSON(symptomJSON{Symptom: s.ID, Title: s.Title, Stop: s.Page,
			Machine: nameOrNil(m), Stopped: stopped,
			Answers: []string{}, NotCare: []string{}, Says: []string{}, Care: []careJSON{}})
	case m == nil:
	case finding != "":
		a.say("%s is stopped: power stays locked until the finding is closed by name: oilcan finding close %s --why …", m.Name, finding)
	case stopped:
		a.say("%s carries its tag: power is locked.", m.Name)
	default:
		a.say("no tag is set: oilcan symptom %s %s --tag sets it", s.ID, action.Typed(m.Name))
	}
	return nil
}

// logOutcome logs whether care cured a symptom, and shows what it does to the weight.
func logOutcome(a *app, s *symptom.Symptom, m *model.Machine, word string,
	is model.CureWord) error {
	if m == nil {
		return misuse("say on which machine: oilcan symptom %s MACHINE --cured %s", s.ID, word)
	}
	cause, err := action.CauseOf(s, a.procs(), word)
	if err != nil {
		return err
	}
	at, err := a.when()
	if err != nil {
		return err
	}
	facts := []model.Fact{{Kind: model.KindOutcome,
		Outcome: &model.Outcome{Symptom: s.ID, Procedure: cause, Is: is}}}
	if c, asked := symptom.Pending(m); asked && c.Procedure == cause &&
		slices.Contains(c.Symptoms, s.ID) {
		facts = symptom.Said(c, is)
	}
	entries, err := a.append(m, at, facts)
	if err != nil {
		return err
	}
	b, err := a.bench()
	if err != nil {
		return err
	}
	counts := symptom.Counts(b)
	n := counts[model.TallyKey(s.ID, cause)]
	was, now := symptom.Weight(s, cause, a.procs(), counts)
	return a.saved(entries, "%s: %q %s %q; on this bench %d of %d times, its weight %.1f, was %.0f",
		m.Name, names(a).Procedure(cause),
		map[model.CureWord]string{model.Cured: "cured", model.NotCured: "did not cure"}[is], names(
			a).Symptom(s.ID), n.Cured, n.Cured+n.Not, now, was)
}
