//! The numbers of an exercise: effects, departure, load, stress, from its parent and its constraints.

use super::*;

impl Builder<'_> {
    pub(super) fn collect_stated(&mut self) {
        let mut stated = Vec::new();
        for state in self.states.values() {
            if let Some(percent) = state.stated {
                stated.push((
                    state.body.root,
                    self.departing(&state.body.constraints),
                    percent,
                ));
            }
        }
        self.stated = stated;
    }

    pub(super) fn departing(&self, constraints: &Bits) -> Bits {
        constraints
            .iter()
            .filter(|at| {
                self.values
                    .get(*at)
                    .is_some_and(|v| v.constraint.departs > 0)
            })
            .collect()
    }

    /// Computes the numbers of a body from its constraints.
    pub(super) fn computed(&self, state: &State<'_>) -> Body {
        let mut body = state.body.clone();
        body.departing = self.departing(&body.constraints);
        let held = || {
            body.constraints
                .iter()
                .filter_map(|at| self.values.get(at).map(|value| (at, value.constraint)))
        };
        body.strong = held().filter(|(_, c)| c.strong).map(|(at, _)| at).collect();
        body.departure = held().map(|(_, c)| i64::from(c.departs)).sum();
        let mut stages = Bits::default();
        for skill in body.skills.iter() {
            for stage in self
                .graph
                .skill_stages
                .get(skill)
                .into_iter()
                .flat_map(Bits::iter)
            {
                stages.insert(stage);
            }
        }
        for (_, constraint) in held() {
            for stage in &constraint.cuts {
                if let Some(at) = self.graph.stages.find(stage.as_str()) {
                    stages.remove(at);
                }
            }
        }
        body.trains = self.with_deltas(&state.trains_from, &body.constraints, |c| {
            self.points(
                &self.graph.qualities,
                c.trains.iter().map(|(id, n)| (id.as_str(), *n)),
            )
        });
        body.stress = self.with_deltas(&state.stress_from, &body.constraints, |c| {
            self.points(
                &self.graph.stresses,
                c.stress.iter().map(|(id, n)| (id.as_str(), *n)),
            )
        });
        body.effects = self.combined(&body.constraints, &state.own);
        match state.stated {
            Some(percent) => {
                body.highest = percent;
                body.estimate = false;
            }
            None => {
                body.highest = self.estimate(state, &body.departing);
                body.estimate = true;
            }
        }
        body.stages = stages;
        body
    }

    pub(super) fn with_deltas(
        &self,
        from: &(Bits, Vec<i64>),
        now: &Bits,
        deltas: impl Fn(&Constraint) -> Vec<i64>,
    ) -> Vec<i64> {
        let mut points = from.1.clone();
        for (at, value) in self.values.iter().enumerate() {
            let sign = i64::from(now.has(at)) - i64::from(from.0.has(at));
            if sign != 0 {
                for (slot, delta) in points.iter_mut().zip(deltas(value.constraint)) {
                    *slot += sign * delta;
                }
            }
        }
        points.into_iter().map(|n| n.max(0)).collect()
    }

    /// Strongest help whole, second half, the rest nothing; all harm whole; in half points.
    pub(super) fn combined(&self, constraints: &Bits, own: &[(usize, i64)]) -> Vec<i64> {
        let mut by_cause: Vec<Vec<i64>> = vec![Vec::new(); self.graph.causes.len()];
        let mut give = |cause: Option<usize>, n: i64| {
            if let Some(list) = cause.and_then(|at| by_cause.get_mut(at)) {
                list.push(n);
            }
        };
        for at in constraints.iter() {
            for (id, n) in self
                .values
                .get(at)
                .into_iter()
                .flat_map(|value| &value.constraint.effect)
            {
                give(self.graph.causes.find(id.as_str()), i64::from(n.value));
            }
        }
        for (cause, n) in own {
            give(Some(*cause), *n);
        }
        by_cause
            .into_iter()
            .map(|mut list| {
                list.sort_unstable_by(|a, b| b.cmp(a));
                let mut helps = list.iter().copied().filter(|n| *n > 0);
                let help = 2 * helps.next().unwrap_or(0) + helps.next().unwrap_or(0);
                let harm: i64 = list.iter().copied().filter(|n| *n < 0).sum();
                help + 2 * harm
            })
            .collect()
    }

    pub(super) fn estimate(&self, state: &State<'_>, departing: &Bits) -> i64 {
        let root = state
            .root
            .highest
            .as_ref()
            .map_or(100, |stated| i128::from(stated.percent.value));
        let (mut product, mut divisor) = (root, 1i128);
        for at in state
            .body
            .constraints
            .iter()
            .filter(|at| !state.root_constraints.has(*at))
        {
            if let Some(percent) = self
                .values
                .get(at)
                .and_then(|value| value.constraint.load_percent.as_ref())
            {
                product = product.saturating_mul(i128::from(percent.value));
                divisor = divisor.saturating_mul(100);
            }
        }
        let computed = i64::try_from(product / divisor).unwrap_or(i64::MAX).max(1);
        self.stated
            .iter()
            .filter(|(root, held, _)| *root == state.body.root && held.within(departing))
            .map(|(_, _, percent)| *percent)
            .fold(computed, i64::min)
    }
}
