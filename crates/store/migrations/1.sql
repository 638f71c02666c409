-- Which job this is: one row, the same in every copy.
create table job (
    one integer primary key check (one = 1),
    id blob not null check (length(id) = 16)
) strict;

-- The tally. `wire` is the truth, to the byte; the other columns are read off it.
-- Rows are never removed, so a row number, once given, is never given again.
create table event (
    row integer primary key,
    id blob not null unique check (length(id) = 16),
    device text not null,
    seq integer not null check (seq > 0),
    wire text not null
) strict;

-- A slot holds one event. The number comes first, so that the highest one is found at once.
create unique index event_slot on event (seq, device);

-- Packing lists, photos, papers, by the SHA-256 of their bytes.
create table document (
    digest blob primary key check (length(digest) = 32),
    bytes blob not null
) strict;

create trigger event_stays before delete on event
begin select raise(abort, 'events are never removed'); end;
create trigger event_as_written before update on event
begin select raise(abort, 'events are never changed'); end;
create trigger document_stays before delete on document
begin select raise(abort, 'documents are never removed'); end;
create trigger document_as_written before update on document
begin select raise(abort, 'documents are never changed'); end;

-- Of this copy alone, never merged.
create table local (
    key text primary key,
    value text not null
) strict;

create table device (
    id text primary key,
    token blob not null unique check (length(token) = 32),
    name text not null,
    revoked integer not null default 0 check (revoked in (0, 1))
) strict;
