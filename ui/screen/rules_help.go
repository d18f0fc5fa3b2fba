package screen

// RulesHelp explains the words and shapes of the bench; the machine screen uses it too.
func RulesHelp() []HelpPart {
	return []HelpPart{
		{"how to read a rule", []string{
			"A gauge is a rule seen from the side: a scale from nothing to the end of the band, true to length. The heavy line is what is used up, the hatched stretch is the band in which care is due, the light dots are where a fortnight at the present pace leads.",
			"A rider stands where the machine stands. Beyond the right end it is past the band. A question mark: the last time is not known.",
		}},
		{"the words", []string{
			"fresh\tless than eight tenths of the way to the band",
			"wearing\tfrom eight tenths on",
			"due\twithin the band, or called for by a finding or other care",
			"past\tbeyond the band",
			"unknown\tnobody knows when it was last done; doing it once settles that",
		}},
		{"all gauges", []string{
			"One cell a gauge, worst first: a full block is past, nearly full is due, the lower the fresher, ? is unknown. A + at the end says there are more.",
		}},
		{"where the figures come from", []string{
			"Used: the meters you typed (hours, filament changes, print starts) and the calendar, whichever is further along.",
			"Bands: from the procedure. Each says whether it is common practice, from memory, published or your own record; the machine's page shows it.",
			"Looks: five and more, answered one by one, may suggest another band for a machine. Its page says so and b takes it; nothing changes by itself.",
			"Dates: the calendar is exact; the rest follows how the counters grew so far. Type the meters (m) now and then.",
		}},
		{"below the machines", []string{
			"open\tsessions begun and not closed, marks on a machine, and findings and reminders with their day",
			"drawer\tparts of which no more than the minimum is left",
		}},
	}
}
