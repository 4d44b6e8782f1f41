//! Which question is at the solver and which one waits: the newest wins, late answers are dropped.

/// Where the solver is.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Queue {
    /// Not yet heard from; the newest job waits.
    #[default]
    Starting,
    /// Not yet heard from, with a job waiting.
    Waiting(String),
    /// Listens, nothing to do.
    Idle,
    /// At work on this job; the newest one after it waits.
    Busy {
        /// Its ticket.
        ticket: u32,
        /// The job at work.
        job: String,
        /// The job that waits.
        next: Option<String>,
    },
    /// The solver broke on this job; it is not tried again by itself.
    Broken(String),
}

/// A question to post.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Post {
    /// Its ticket.
    pub ticket: u32,
    /// The job.
    pub job: String,
}

impl Queue {
    /// A new job is asked. Returns what to post now, if anything.
    pub fn ask(&mut self, job: String, ticket: u32) -> Option<Post> {
        match self {
            Self::Starting | Self::Waiting(_) => {
                *self = Self::Waiting(job);
                None
            }
            Self::Broken(broke_on) if *broke_on == job => None,
            Self::Idle | Self::Broken(_) => Some(self.post(job, ticket)),
            Self::Busy { job: at_work, next, .. } => {
                *next = (*at_work != job).then_some(job);
                None
            }
        }
    }

    /// The solver says that it listens.
    pub fn ready(&mut self, ticket: u32) -> Option<Post> {
        match std::mem::take(self) {
            Self::Waiting(job) => Some(self.post(job, ticket)),
            Self::Busy { next: Some(job), .. } => Some(self.post(job, ticket)),
            broken @ Self::Broken(_) => {
                *self = broken;
                None
            }
            Self::Starting | Self::Idle | Self::Busy { .. } => {
                *self = Self::Idle;
                None
            }
        }
    }

    /// An answer arrived. Returns whether it is still wanted, and what to post next.
    pub fn answered(&mut self, answered: u32, ticket: u32) -> (bool, Option<Post>) {
        match std::mem::take(self) {
            Self::Busy { ticket: at_work, next, .. } if at_work == answered => match next {
                Some(job) => (true, Some(self.post(job, ticket))),
                None => {
                    *self = Self::Idle;
                    (true, None)
                }
            },
            other => {
                *self = other;
                (false, None)
            }
        }
    }

    /// The solver broke. Returns the job it broke on; a new solver is to be started.
    pub fn broke(&mut self) -> Option<String> {
        match std::mem::take(self) {
            Self::Busy { job, .. } => {
                *self = Self::Broken(job.clone());
                Some(job)
            }
            Self::Waiting(job) => {
                *self = Self::Waiting(job);
                None
            }
            other => {
                *self = other;
                None
            }
        }
    }

    fn post(&mut self, job: String, ticket: u32) -> Post {
        *self = Self::Busy { ticket, job: job.clone(), next: None };
        Post { ticket, job }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn post(ticket: u32, job: &str) -> Option<Post> {
        Some(Post { ticket, job: job.to_owned() })
    }

    #[test]
    fn what_is_asked_before_the_solver_listens_waits_for_it() {
        let mut queue = Queue::default();
        assert_eq!(queue.ask("a".into(), 1), None);
        assert_eq!(queue.ask("b".into(), 2), None);
        assert_eq!(queue.ready(3), post(3, "b"), "only the newest is asked");
    }

    #[test]
    fn the_newest_wins_and_late_answers_are_dropped() {
        let mut queue = Queue::Idle;
        assert_eq!(queue.ask("a".into(), 1), post(1, "a"));
        assert_eq!(queue.ask("b".into(), 2), None);
        assert_eq!(queue.ask("c".into(), 3), None);
        assert_eq!(queue.answered(1, 4), (true, post(4, "c")));
        assert_eq!(queue.answered(1, 5), (false, None), "an answer to an old question");
        assert_eq!(queue.answered(4, 6), (true, None));
        assert_eq!(queue, Queue::Idle);
    }

    #[test]
    fn a_job_that_broke_the_solver_is_not_tried_again_by_itself() {
        let mut queue = Queue::Idle;
        let _ = queue.ask("bad".into(), 1);
        assert_eq!(queue.broke(), Some("bad".into()));
        assert_eq!(queue.ready(2), None);
        assert_eq!(queue.ask("bad".into(), 3), None);
        assert_eq!(queue.ask("good".into(), 4), post(4, "good"));
    }

    #[test]
    fn asking_again_for_what_is_at_work_drops_what_waited() {
        let mut queue = Queue::Idle;
        let _ = queue.ask("a".into(), 1);
        let _ = queue.ask("b".into(), 2);
        let _ = queue.ask("a".into(), 3);
        assert_eq!(queue.answered(1, 4), (true, None));
    }
}
