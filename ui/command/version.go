package command

import "runtime/debug"

// Version says which oilcan this is: the release it was built as, or the module's version, with the
// revision where the build knows it.
func Version(release string) string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return orDevel(release)
	}
	v := release
	if v == "" {
		v = info.Main.Version
	}
	v = orDevel(v)
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" && len(s.Value) >= 12 && release == "" {
			v += " " + s.Value[:12]
		}
	}
	return v
}

func orDevel(v string) string {
	if v == "" || v == "(devel)" {
		return "devel"
	}
	return v
}
