// Package calendar writes care that is due as a calendar file (RFC 5545). It is pure.
//
// An item keeps its UID for good: the care of one procedure on one machine. A calendar that takes
// the file in again moves what it has to the new day, and doubles nothing. What was done meanwhile
// is not in the next file; whether it goes away is up to the calendar, one that subscribes to the
// file drops it.
package calendar

import (
	"strconv"
	"strings"
	"time"
	"unicode/utf8"
)

// Item is one thing to do on a day.
type Item struct {
	UID     string    // the same in every file
	From    time.Time // the day it is to be done from
	Until   time.Time // the day it is to be done by; zero or before From where none is known
	Title   string    // one line
	Note    string    // more, in any number of lines
	Pressed bool      // it is past its band
}

// Kind says what an item becomes.
type Kind string

// The kinds: an event of one day, which every calendar shows, or a task, which is ticked off.
const (
	Event Kind = "VEVENT"
	Task  Kind = "VTODO"
)

const day = 24 * time.Hour

// Write gives the file, with days in the zone of now, the time at which it is made.
func Write(items []Item, kind Kind, now time.Time) string {
	f := &file{}
	f.line("BEGIN", "VCALENDAR")
	f.line("VERSION", "2.0")
	f.line("PRODID", "-//oilcan//due//EN")
	for _, it := range items {
		f.line("BEGIN", string(kind))
		f.text("UID", it.UID)
		f.line("DTSTAMP", now.UTC().Format("20060102T150405Z"))
		// The later of two files must count as the newer revision (RFC 5545, 3.8.7.4), and no file
		// knows of the one before it: minutes since 1970 grow, and stay within 31 bits.
		f.line("SEQUENCE", strconv.FormatInt(now.Unix()/60, 10))
		f.days(it, kind, now)
		f.text("SUMMARY", it.Title)
		f.text("DESCRIPTION", it.Note)
		priority := "5"
		if it.Pressed {
			priority = "1"
		}
		f.line("PRIORITY", priority)
		if kind == Event {
			f.line("TRANSP", "TRANSPARENT")
		} else {
			f.line("STATUS", "NEEDS-ACTION")
		}
		f.line("END", string(kind))
	}
	f.line("END", "VCALENDAR")
	return f.b.String()
}

// days writes the days of an item. An end is a day that does not belong to it any more for an event
// (3.6.1), and must lie behind the begin for both (3.8.2.2, 3.8.2.3).
func (f *file) days(it Item, kind Kind, now time.Time) {
	y, m, d := it.From.In(now.Location()).Date()
	from := time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
	f.line("DTSTART;VALUE=DATE", from.Format("20060102"))
	next := from.Add(day)
	if kind == Event {
		f.line("DTEND;VALUE=DATE", next.Format("20060102"))
		return
	}
	y, m, d = it.Until.In(now.Location()).Date()
	if until := time.Date(y, m, d, 0, 0, 0, 0, time.UTC); until.After(next) {
		next = until
	}
	f.line("DUE;VALUE=DATE", next.Format("20060102"))
}

// file is a calendar file being written.
type file struct{ b strings.Builder }

var escape = strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\r\n", `\n`, "\n", `\n`)

// text writes a property whose value is a text (RFC 5545, 3.3.11).
func (f *file) text(name, value string) {
	if value != "" {
		f.line(name, escape.Replace(value))
	}
}

// mostOctets is how long a line may be without its break (RFC 5545, 3.1).
const mostOctets = 75

// line writes one property, folded between characters where it is longer than a line may be.
func (f *file) line(name, value string) {
	room := mostOctets
	used := 0
	for _, r := range name + ":" + value {
		n := utf8.RuneLen(r)
		if used+n > room {
			f.b.WriteString("\r\n ")
			used = 1
		}
		f.b.WriteRune(r)
		used += n
	}
	f.b.WriteString("\r\n")
}
