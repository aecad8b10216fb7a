//! Mistakes that can be planted, one at a time, in the simulation's own wiring.

/// A planted mistake.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bug {
    /// The phone says "saved" before the transaction is committed.
    SavedBeforeCommit,
    /// The head of the thread is written in a transaction of its own.
    HeadApart,
    /// The office says of the last entry of a push that it is stored, and has not stored it.
    AnswerWithoutStoring,
    /// The phone takes what it sent for received, whatever comes back.
    ReceivedWhenSent,
    /// The phone forgets an entry once the office has it.
    ForgetOnReceipt,
    /// The phone does not send again after the office was restored.
    NoResend,
    /// An entry set aside stays in the queue.
    AsideNotReceived,
    /// The office takes another entry with a known device and sequence for a duplicate.
    DuplicateBySequence,
    /// A conflict that an earlier receipt brought is not read as a sign of a rolled-back phone.
    ForkForgotten,
    /// What is written again is not noted as such.
    AgainWithoutNote,
    /// Ledgers of a history that is gone are kept.
    OldLedgersKept,
    /// The cursor is written before the ledgers it stands for.
    CursorFirst,
    /// The office's new place is written before all that is held was marked to be sent again.
    CursorBeforeResend,
    /// A phone does not compare what the office has of it with what the office said it has.
    ReceivedForgotten,
    /// A phone that fetches ledgers does not say where it last saw the office.
    PullForgetsSeen,
    /// A full window lets go of its newest record instead of its oldest.
    WindowDropsNewest,
}

impl Bug {
    /// All of them.
    pub const ALL: [Self; 16] = [
        Self::SavedBeforeCommit,
        Self::HeadApart,
        Self::AnswerWithoutStoring,
        Self::ReceivedWhenSent,
        Self::ForgetOnReceipt,
        Self::NoResend,
        Self::AsideNotReceived,
        Self::DuplicateBySequence,
        Self::ForkForgotten,
        Self::AgainWithoutNote,
        Self::OldLedgersKept,
        Self::CursorFirst,
        Self::CursorBeforeResend,
        Self::PullForgetsSeen,
        Self::ReceivedForgotten,
        Self::WindowDropsNewest,
    ];

    /// A phone that compares what the office has of it with what it said mends these too: they are
    /// planted in phones that do not.
    pub const fn needs_no_comparing(self) -> bool {
        matches!(
            self,
            Self::ReceivedForgotten
                | Self::PullForgetsSeen
                | Self::CursorBeforeResend
                | Self::NoResend
                | Self::AnswerWithoutStoring
        )
    }
}
