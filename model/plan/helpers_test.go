package plan

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"bench/oilcan/model"
)

var short = map[string]string{
	"P": "power", "H": "heat", "F": "filament", "C": "cover", "T": "top", "M": "changer",
	"B": "bed", "D": "door", "V": "vapour", "S": "sensor",
	"unpl": "unplugged", "det": "detached", "mtd": "mounted", "cl": "closed",
}

func long(s string) string {
	if l, ok := short[s]; ok {
		return l
	}
	return s
}

// state reads "P=unpl H=cold" into a condition.
func state(s string) model.Condition {
	c := model.Condition{}
	for _, w := range strings.Fields(s) {
		v, is, _ := strings.Cut(w, "=")
		c[model.Variable(long(v))] = long(is)
	}
	return c
}

// setUp makes a set-up action.
func setUp(id, variable, from, to string, hands, waiting float64, require string) *model.Procedure {
	return &model.Procedure{
		ID: id, Kind: model.SetUp, HandsOn: hands, Waiting: waiting, Require: state(require),
		Change: &model.Change{Variable: model.Variable(variable), From: from, To: to},
	}
}

// setUps are the set-up actions with the minutes and requires the project is designed to.
func setUps() []*model.Procedure {
	const whole = "C=on T=on M=mtd D=cl V=clear"
	ups := []*model.Procedure{
		setUp("heat", "heat", "cold", "hot", 0, 4, "P=on C=on D=cl V=clear S=proved"),
		setUp("unload", "filament", "loaded", "unloaded", 2, 0, "P=on H=hot"),
		setUp("cool", "heat", "hot", "cold", 0.5, 15, "P=on D=cl"),
		setUp("cool-off", "heat", "hot", "cold", 0.5, 30, "P=off"),
		setUp("lower-bed", "bed", "high", "low", 0, 0, "P=on D=cl"),
		setUp("switch-off", "power", "on", "off", 0, 0, "B=low"),
		setUp("unplug", "power", "off", "unplugged", 0.5, 0, "H=cold"),
		setUp("open-door", "door", "closed", "open", 0, 0, "P=off H=cold"),
		setUp("changer-off", "changer", "mounted", "detached", 1, 0,
			"P=unpl H=cold F=unloaded B=low D=open"),
		setUp("top-off", "top", "on", "off", 1, 0, "P=unpl H=cold B=low M=det"),
		setUp("cover-off", "cover", "on", "off", 1, 0, "P=unpl H=cold D=open"),
		setUp("cover-on", "cover", "off", "on", 1, 0, "P=unpl H=cold D=open"),
		setUp("air", "vapour", "drying", "clear", 0, 10, "P=unpl D=open"),
		setUp("top-on", "top", "off", "on", 1, 0, "P=unpl C=on V=clear"),
		setUp("changer-on", "changer", "detached", "mounted", 1, 0, "P=unpl T=on D=open"),
		setUp("close-door", "door", "open", "closed", 0, 0, "V=clear"),
		setUp("plug-in", "power", "unplugged", "off", 2.5, 0, whole),
		setUp("switch-on", "power", "off", "on", 0.5, 0, whole),
		setUp("gantry-free", "bed", "low", "high", 1, 0, "P=on H=cold D=cl"),
		setUp("gantry-held", "bed", "low", "high", 3, 0, "P=unpl H=cold D=open"),
	}
	lid := model.Only{Features: []model.Feature{"lid-changer"}}
	for _, u := range ups {
		switch u.ID {
		case "gantry-free", "gantry-held":
			u.Needs = []model.Feature{"bedslinger"}
			if u.ID == "gantry-free" {
				u.Settings = []model.Setting{{Name: "gantry-jog", Default: "yes",
					Options: []string{"yes", "no"}}}
				u.Steps = []model.Step{{Name: "jog",
					Only: model.Only{Setting: "gantry-jog", Is: []string{"yes"}}},
					{Name: "draw", Only: model.Only{Step: "jog", Is: []string{"rises level"}}}}
			}
		case "changer-off":
			u.MinutesFor = []model.MinutesFor{{HandsOn: 3, Only: lid}}
		case "changer-on":
			u.MinutesFor = []model.MinutesFor{{HandsOn: 4, Only: lid}}
		case "switch-on":
			u.Leave = []model.Left{{Variable: model.Sensor, Is: "proved"}}
		}
	}
	return ups
}

// care makes a procedure: "rung hands waiting", its require, its tools apart by commas.
func care(id, rung string, hands, waiting float64, require, tools string) *model.Procedure {
	p := &model.Procedure{ID: id, Title: "Title of " + id, Kind: model.Care,
		Rung: []model.Placed{{Is: model.Rung(
			rung)}}, HandsOn: hands, Waiting: waiting, Require: state(require)}
	for t := range strings.SplitSeq(tools, ",") {
		if t = strings.TrimSpace(t); t != "" {
			p.Tools = append(p.Tools, model.Tool{Name: t})
		}
	}
	return p
}

func leaving(p *model.Procedure, s string) *model.Procedure {
	c := state(s)
	for _, v := range model.Variables {
		if c[v] != "" {
			p.Leave = append(p.Leave, model.Left{Variable: v, Is: c[v]})
		}
	}
	return p
}

func after(p *model.Procedure, ids ...string) *model.Procedure {
	p.After = append(p.After, ids...)
	return p
}

func owning(p *model.Procedure, what string) *model.Procedure {
	p.Owns = append(p.Owns, model.Own(what))
	return p
}

func byID(t testing.TB, list []*model.Procedure, ids ...string) []*model.Procedure {
	t.Helper()
	var out []*model.Procedure
	for _, id := range ids {
		i := slices.IndexFunc(list, func(p *model.Procedure) bool { return p.ID == id })
		if i < 0 {
			t.Fatalf("the fixture has no %s", id)
		}
		out = append(out, list[i])
	}
	return out
}

// full is the machine with everything.
func full() model.FeatureSet { return model.NewFeatureSet(model.FullFeatures...) }

func sequence(p *Plan) string {
	var ids []string
	for _, it := range p.Sequence {
		ids = append(ids, it.ID)
	}
	return strings.Join(ids, " ")
}

func mustMake(t testing.TB, r Request) *Plan {
	t.Helper()
	p, err := Make(r)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// value is the whole objective of a sequence, worked out from the files alone: by the words of the
// design, not by the search.
type value struct {
	cost, waiting float64
	setups, late  int
	ids           []string
}

func (a value) compare(b value) int {
	for _, d := range []float64{a.cost - b.cost, a.waiting - b.waiting,
		float64(a.setups - b.setups), float64(a.late - b.late)} {
		if d < 0 {
			return -1
		} else if d > 0 {
			return 1
		}
	}
	return slices.Compare(a.ids, b.ids)
}

func (a value) String() string {
	return fmt.Sprintf("cost %v, waiting %v, %d set-ups, late %d: %s", a.cost, a.waiting, a.setups,
		a.late, strings.Join(a.ids, " "))
}

// appraise gives the objective of a sequence of resolved steps.
func appraise(seq []*model.Procedure) value {
	var v value
	left := 0
	for _, p := range seq {
		if p.Change == nil {
			left++
		}
	}
	have := map[string]bool{}
	for _, p := range seq {
		v.ids = append(v.ids, p.ID)
		if p.ID == "switch-off" || p.ID == "unplug" {
			v.ids[len(v.ids)-1] = " " + p.ID // dark first, where all else is equal
		}
		v.waiting += p.Waiting
		if p.Change != nil {
			v.cost += p.HandsOn
			v.setups++
			v.late += left
			continue
		}
		left--
		now := map[string]bool{}
		for _, t := range p.Tools {
			now[t.Name] = true
		}
		for _, s := range p.Supplies {
			now[s.Part] = true
		}
		for name := range now {
			if !have[name] {
				v.cost += 0.25
			}
		}
		have = now
	}
	return v
}
