package machine

import (
	"strconv"
	"testing"
	"time"

	"bench/oilcan/model"
)

// The sessions a machine's page names are read from the journal, newest first.
func TestEndedSessions(t *testing.T) {
	first := time.Date(2026, 11, 25, 9, 14, 0, 0, time.UTC)
	var es []model.Entry
	for i := range 7 {
		id, at := strconv.Itoa(i), first.AddDate(0, 0, i)
		es = append(es, model.Entry{Session: id, At: at,
			Fact: model.Fact{Begun: &model.Begun{Title: "care " + id}}},
			model.Entry{Session: id, At: at,
				Fact: model.Fact{Closed: &model.Closed{State: "ready"}}})
	}
	got := ended(es)
	if len(got) != sessionsShown || got[0].title != "care 6" || got[4].title != "care 2" {
		t.Errorf("%+v", got)
	}
}
