package machine

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/ui/action"
	"bench/oilcan/ui/screen"
)

// save checks everything and writes it at once.
func (s *machineForm) save() tea.Cmd {
	if !s.Sound() {
		return nil
	}
	at := "save" // the row a refusal stands at
	fact, err := s.fact()
	if err == nil && s.old != nil {
		var setting string
		if setting, err = model.CheckCounts(*s.old, fact); s.Row("setting-"+setting) != nil {
			at = "setting-" + setting
		}
	}
	if err == nil && s.old != nil {
		return s.writeAll(fact,
			[]model.Action{{Machine: fact.ID,
				Facts: []model.Fact{{Kind: model.KindMachine, Machine: &fact}}}})
	}
	var actions []model.Action
	if err == nil {
		actions, err = s.actions(fact)
	}
	if err != nil {
		s.Row(at).Bad = screen.Sentence(err)
		s.GoTo(at)
		return nil
	}
	return s.writeAll(fact, actions)
}

func (s *machineForm) writeAll(fact model.MachineFact, actions []model.Action) tea.Cmd {
	for i := range actions {
		actions[i].By = s.Env.Operator
	}
	s.Saving = true
	id := fact.ID
	return s.Write(func(st screen.Store) (any, error) {
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
		f.ID = s.Env.NewID(s.Now)
	}
	var err error
	f.Name = s.Row("name").Value()
	f.Duty = model.Duty(s.Row("duty").Value())
	if f.Features, err = model.ParseFeatures(s.chosenFeatures()); err != nil {
		return f, err
	}
	if use := s.Row("use"); use != nil {
		f.OutOfUse = use.One == 1
	}
	for _, r := range s.Rows {
		if n, ok := strings.CutPrefix(r.Name, "setting-"); ok {
			f = action.WithSetting(f, n, r.Value())
		}
	}
	o, err := action.ReadOrigin(s.Row("origin").Value(), s.Now)
	if err != nil {
		return f, err
	}
	if s.Row("origin").Shown() != s.Row("origin").Held || s.old == nil {
		f = o.With(f)
	}
	if s.old == nil {
		if s.Row("care").Value() == "all" {
			return f, nil
		}
		f.CareList = model.StarterList(s.Env.Library.All(), model.NewFeatureSet(f.Features...))
		return f, nil
	}
	return f.Refit(s.Env.Library.All(), s.old.Features), nil
}

// actions adds what its counters show: 0 where it is out of its box.
func (s *machineForm) actions(f model.MachineFact) ([]model.Action, error) {
	o, err := action.ReadOrigin(s.Row("origin").Value(), s.Now)
	if err != nil {
		return nil, err
	}
	readings := o.Readings(model.NewFeatureSet(f.Features...))
	for _, r := range s.Asked() {
		if meter := model.Meter(r.Name); meter.Typed() && r.Value() != "" {
			v, err := model.ReadMeter(&model.Machine{}, meter, r.Value(), s.Now, s.Now)
			if err != nil {
				return nil, err
			}
			readings = append(readings, model.Reading{Meter: meter, Value: v, How: "start"})
		}
	}
	return action.NewMachine(f, readings, nil, s.Env.Library.All(), s.Now, s.Now)
}
