package standin

import (
	"maps"
	"slices"
)

// Menus of people, roles and channels come without options: the platform lists
// what there is, and says with what was chosen what it stands for (Discord
// documentation, "User Select", "Role Select", "Channel Select").

// listed is what the platform offers in a menu of its own in c, nothing of
// another. The caller holds s.mu.
func (c *Channel) listed(menu component) (all []Choice) {
	if c.server == nil {
		return nil
	}
	switch menu.Type {
	case typePeople:
		for _, id := range slices.Sorted(maps.Keys(c.server.members)) {
			all = append(all, Choice{id, c.server.members[id].user.Name})
		}
	case typeRoles:
		for _, r := range c.server.roles {
			all = append(all, Choice{r.ID, r.Name})
		}
	case typeChannels:
		for _, other := range c.server.channels {
			if menu.Channels == nil || slices.Contains(menu.Channels, other.kind) {
				all = append(all, Choice{other.ID, other.Name})
			}
		}
	}
	return all
}

// resolve is what values of a menu of the platform's own stand for. Ids that
// are none of the server's stand for nothing.
func (c *Channel) resolve(menu int, values []string) map[string]any {
	users, members, roles, channels := map[string]any{}, map[string]any{}, map[string]any{}, map[string]any{}
	if c.server == nil {
		return nil
	}
	for _, id := range values {
		switch menu {
		case typePeople:
			if m := c.server.members[id]; m != nil {
				users[id] = m.user.json()
				j := m.json(c.permissions(m.user))
				delete(j, "user")
				members[id] = j
			}
		case typeRoles:
			for _, r := range c.server.roles {
				if r.ID == id {
					roles[id] = r.json()
				}
			}
		case typeChannels:
			if other := c.stand.channels[id]; other != nil && other.server == c.server {
				channels[id] = other.json()
			}
		}
	}
	return map[string]any{"users": users, "members": members, "roles": roles, "channels": channels}
}
