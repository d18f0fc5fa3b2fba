package action

import (
	"bench/oilcan/model"
	"bench/oilcan/model/symptom"
)

// Names calls procedures and symptoms in sentences: by their titles. What is in no library any
// more is called by its id.
type Names struct {
	Procs    []*model.Procedure
	Symptoms *symptom.Table // nil: none are known
	Currency string         // behind prices; "" writes none
}

// Procedure calls a procedure, or a cause that is done by hand, which has no title.
func (n Names) Procedure(id string) string {
	if p := model.ByID(n.Procs, id); p != nil {
		return p.Title
	}
	return id
}

// Setting calls what a procedure asks once of a machine, or what says how it prints.
func (n Names) Setting(name string) string {
	for _, p := range n.Procs {
		for _, s := range p.Settings {
			if s.Name == name {
				return s.Heading()
			}
		}
	}
	for _, s := range model.PrintSettings {
		if s.Name == name {
			return s.Heading()
		}
	}
	return model.Setting{Name: name}.Heading()
}

// Symptom calls a symptom by its title, by its id where none is known.
func (n Names) Symptom(id string) string {
	if n.Symptoms != nil {
		if s := n.Symptoms.Get(id); s != nil {
			return s.Title
		}
	}
	return id
}
