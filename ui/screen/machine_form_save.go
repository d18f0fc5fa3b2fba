package screen

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
)

// save checks everything and writes it at once.
func (s *machineForm) save() tea.Cmd {
	for _, r := range s.asked() {
		if r.bad = s.check(r); r.bad != "" {
			s.goTo(r.name)
			return nil
		}
	}
	fact, err := s.fact()
	if err == nil && s.old != nil {
		return s.write(fact, []model.Action{{Machine: fact.ID, Facts: []model.Fact{{Kind: model.KindMachine, Machine: &fact}}}})
	}
	var actions []model.Action
	if err == nil {
		actions, err = s.actions(fact)
	}
	if err != nil {
		s.row("save").bad = Sentence(err)
		s.goTo("save")
		return nil
	}
	return s.write(fact, actions)
}

func (s *machineForm) write(fact model.MachineFact, actions []model.Action) tea.Cmd {
	for i := range actions {
		actions[i].By = s.Env.Operator
	}
	s.saving = true
	id := fact.ID
	return s.Write(func(st Store) (any, error) {
		_, err := st.AppendAll(actions)
		return id, err
	})
}

// fact is the machine as the form describes it.
func (s *machineForm) fact() (model.MachineFact, error) {
	var f model.MachineFact
	if s.old != nil {
		f = *s.old
	} else {
		f.ID = s.Env.newID(s.Now)
	}
	var err error
	f.Name = s.row("name").value()
	f.Duty = model.Duty(s.row("duty").value())
	if f.Features, err = model.ParseFeatures(s.chosenFeatures()); err != nil {
		return f, err
	}
	if use := s.row("use"); use != nil {
		f.OutOfUse = use.one == 1
	}
	for _, r := range s.rows {
		if n, ok := strings.CutPrefix(r.name, "setting-"); ok {
			f = action.WithSetting(f, n, r.value())
		}
	}
	if s.old == nil {
		f.CareList = model.StarterList(s.Env.Library.All(), model.NewFeatureSet(f.Features...))
		return f, nil
	}
	return f.Refit(s.Env.Library.All(), s.old.Features), nil
}

// actions adds the readings and the last times told.
func (s *machineForm) actions(f model.MachineFact) ([]model.Action, error) {
	var readings []model.Reading
	for _, a := range meterAsks[:3] {
		if text := s.row(string(a.meter)).value(); text != "" {
			v, err := model.ReadMeter(&model.Machine{}, a.meter, text, s.Now, s.Now)
			if err != nil {
				return nil, err
			}
			readings = append(readings, model.Reading{Meter: a.meter, Value: v, How: "start"})
		}
	}
	return action.NewMachine(f, readings, s.lasts(f), s.Env.Library.All(), s.Now, s.Now)
}

// lasts are the last times told.
func (s *machineForm) lasts(f model.MachineFact) []action.Last {
	var out []action.Last
	fs := model.NewFeatureSet(f.Features...)
	if s.row("fresh").one == 1 {
		for _, p := range s.Env.Library.All() {
			if p.Kind != model.Bookend && p.Kind != model.Proof && len(p.Intervals) > 0 && p.Fits(fs) {
				out = append(out, action.Last{Procedure: p.ID, At: s.Now})
			}
		}
		return out
	}
	for _, r := range s.asked() {
		id, ok := strings.CutPrefix(r.name, "last-")
		if !ok || r.value() == "" {
			continue
		}
		if l, err := action.ParseLast(id+"="+r.value(), s.Now); err == nil { // checked before
			out = append(out, l)
		}
	}
	return out
}
