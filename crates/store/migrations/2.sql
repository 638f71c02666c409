-- The log as a chain: `chain` binds each event to all that came into this copy before it. Copies
-- hold the same events in other orders, so each has a chain of its own. The table is made anew,
-- since no row may be without; whoever still has the file open in an older build cannot write one.
drop trigger event_stays;
drop trigger event_as_written;
drop index event_slot;
alter table event rename to event_unchained;

create table event (
    row integer primary key,
    id blob not null unique check (length(id) = 16),
    device text not null,
    seq integer not null check (seq > 0),
    wire text not null,
    chain blob not null check (length(chain) = 32)
) strict;

create unique index event_slot on event (seq, device);

create trigger event_stays before delete on event
begin select raise(abort, 'events are never removed'); end;
create trigger event_as_written before update on event
begin select raise(abort, 'events are never changed'); end;

-- Small things made from documents, such as thumbnails. Of this copy alone, never merged; they may
-- be thrown away and made anew.
create table derived (
    digest blob not null check (length(digest) = 32),
    kind text not null,
    bytes blob not null,
    primary key (digest, kind)
) strict;
