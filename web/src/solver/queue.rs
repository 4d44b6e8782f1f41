//! Which question is at the solver and which one waits: the newest wins, late answers are dropped.

use super::messages::Want;

/// Where the solver is.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
enum State {
    /// Not heard from yet; the newest job waits.
    #[default]
    Starting,
    Waiting(Question),
    /// Listens, nothing to do.
    Idle,
    /// At work on a job; the newest one after it waits.
    Busy {
        ticket: u32,
        asked: Question,
        next: Option<Question>,
    },
}

/// The questions to the solver.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Queue {
    state: State,
    /// The job on which the solver broke last: it is not tried again by itself.
    broke_on: Option<Question>,
}

/// A job's text, and how much is asked of it.
pub type Question = (String, Want);

/// A question to post.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Post {
    /// Its ticket.
    pub ticket: u32,
    /// The question.
    pub asked: Question,
}

impl Queue {
    /// A new job is asked. Returns what to post now, if anything.
    pub fn ask(&mut self, asked: Question, ticket: u32) -> Option<Post> {
        if self.broke_on.as_ref() == Some(&asked) {
            return None;
        }
        match &mut self.state {
            State::Starting | State::Waiting(_) => {
                self.state = State::Waiting(asked);
                None
            }
            State::Idle => Some(self.post(asked, ticket)),
            State::Busy { asked: at_work, next, .. } => {
                *next = (*at_work != asked).then_some(asked);
                None
            }
        }
    }

    /// The solver says that it listens.
    pub fn ready(&mut self, ticket: u32) -> Option<Post> {
        match std::mem::take(&mut self.state) {
            State::Waiting(asked) => Some(self.post(asked, ticket)),
            State::Starting | State::Idle | State::Busy { .. } => {
                self.state = State::Idle;
                None
            }
        }
    }

    /// A part of an answer arrived, and the solver listens: a newer job is posted now, and ends the work on the old one.
    /// Returns whether the part is wanted, and what to post.
    pub fn answered_in_part(&mut self, answered: u32, ticket: u32) -> (bool, Option<Post>) {
        match &mut self.state {
            State::Busy { ticket: at_work, next, .. } if *at_work == answered => {
                let next = next.take();
                (true, next.map(|asked| self.post(asked, ticket)))
            }
            _ => (false, None),
        }
    }

    /// An answer arrived. Returns whether it is still wanted, and what to post next.
    pub fn answered(&mut self, answered: u32, ticket: u32) -> (bool, Option<Post>) {
        match std::mem::take(&mut self.state) {
            State::Busy { ticket: at_work, next, .. } if at_work == answered => match next {
                Some(asked) => (true, Some(self.post(asked, ticket))),
                None => {
                    self.state = State::Idle;
                    (true, None)
                }
            },
            other => {
                self.state = other;
                (false, None)
            }
        }
    }

    /// The solver broke and another is being started. Returns the job it broke on, if it was at work.
    pub fn broke(&mut self) -> Option<Question> {
        match std::mem::take(&mut self.state) {
            State::Busy { asked, next, .. } => {
                self.state = next.map_or(State::Starting, State::Waiting);
                self.broke_on = Some(asked.clone());
                Some(asked)
            }
            State::Waiting(asked) => {
                self.state = State::Waiting(asked);
                None
            }
            State::Starting | State::Idle => None,
        }
    }

    fn post(&mut self, asked: Question, ticket: u32) -> Post {
        // Whoever comes back to the job it broke on, after another, has it tried again: no other answer stands for it.
        self.broke_on = None;
        self.state = State::Busy { ticket, asked: asked.clone(), next: None };
        Post { ticket, asked }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn post(ticket: u32, job: &str) -> Option<Post> {
        Some(Post { ticket, asked: run(job) })
    }

    fn run(job: &str) -> Question {
        (job.to_owned(), Want::Run)
    }

    fn listening() -> Queue {
        let mut queue = Queue::default();
        assert_eq!(queue.ready(0), None);
        queue
    }

    #[test]
    fn what_is_asked_before_the_solver_listens_waits_for_it() {
        let mut queue = Queue::default();
        assert_eq!(queue.ask(run("a"), 1), None);
        assert_eq!(queue.ask(run("b"), 2), None);
        assert_eq!(queue.ready(3), post(3, "b"), "only the newest is asked");
    }

    #[test]
    fn the_newest_wins_and_late_answers_are_dropped() {
        let mut queue = listening();
        assert_eq!(queue.ask(run("a"), 1), post(1, "a"));
        assert_eq!(queue.ask(run("b"), 2), None);
        assert_eq!(queue.ask(run("c"), 3), None);
        assert_eq!(queue.answered(1, 4), (true, post(4, "c")));
        assert_eq!(queue.answered(1, 5), (false, None), "an answer to an old question");
        assert_eq!(queue.answered_in_part(1, 6), (false, None), "a part of an old answer is not shown");
        assert_eq!(queue.answered_in_part(4, 6), (true, None), "nothing newer waits: the work goes on");
        assert_eq!(queue.ask(run("d"), 7), None);
        assert_eq!(queue.answered_in_part(4, 8), (true, post(8, "d")), "what is newer ends the work between two parts");
        assert_eq!(queue.answered(8, 9), (true, None));
        assert_eq!(queue.state, State::Idle);
    }

    #[test]
    fn a_job_that_broke_the_solver_is_not_tried_again_by_itself() {
        let mut queue = listening();
        let _ = queue.ask(run("bad"), 1);
        assert_eq!(queue.broke(), Some(run("bad")));
        assert_eq!(queue.ask(run("bad"), 2), None);
        assert_eq!(queue.ask(run("good"), 3), None, "the new solver does not listen yet");
        assert_eq!(queue.ready(4), post(4, "good"));
    }

    #[test]
    fn who_comes_back_to_a_job_that_broke_the_solver_is_not_left_with_the_answer_to_another() {
        let mut queue = listening();
        let _ = queue.ask(run("bad"), 1);
        let _ = queue.broke();
        let _ = queue.ask(run("good"), 2);
        let _ = queue.ready(3);
        let _ = queue.answered(3, 4);
        assert_eq!(queue.ask(run("bad"), 5), post(5, "bad"));
        assert_eq!(queue.broke(), Some(run("bad")), "and broke again");
        assert_eq!(queue.ask(run("bad"), 6), None);
    }

    #[test]
    fn asking_again_for_what_is_at_work_drops_what_waited() {
        let mut queue = listening();
        let _ = queue.ask(run("a"), 1);
        let _ = queue.ask(run("b"), 2);
        let _ = queue.ask(run("a"), 3);
        assert_eq!(queue.answered(1, 4), (true, None));
    }
}
